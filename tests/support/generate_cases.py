"""Random farms for holding the folds equal, and what is judged in steps against the whole: small, crowded, and full of
what should not happen.

`python -m tests.support.generate_cases 2000 --seed 1` prints one case a line, with texts to hold two versions by.
"""

from __future__ import annotations

import argparse
import json
import random
import sys
from collections.abc import Iterator
from typing import Any

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from herd.state.order import Event, effective
from herd.state.upcast import upcast
from tests.support import random_barn, random_year
from tests.support.random_outlook import RandomOutlook

TODAY = "2026-11-15"
NOON_MS = 1_794_744_000_000
DAY_MS = 86_400_000
SLOTS = ("morning", "midday", "evening", "late")
FEEDS = ("hay", "alfalfa", "alfalfa", "barley", "sprouts", "mystery", "nobody_knows", "lot1", "own1")


def cases(count: int, seed: int) -> Iterator[dict[str, Any]]:
    """Cases with Python's view of them."""
    for n in range(count):
        made = Case(random.Random(f"{seed}/{n}")).made()
        view = fold([upcast(effective(one["ev"], one["eff"])) for one in made["log"]])
        yield {"n": n, **made, "view": view}


def canonical(value: Any) -> str:
    return json.dumps(value, sort_keys=True, separators=(",", ":"), ensure_ascii=False)


class Case:
    """One farm. Every choice comes from DICE, so a case can be made again from its seed and number."""

    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.does = [f"doe{k}" for k in range(dice.randint(1, 6))]
        self.pens = [f"pen{k}" for k in range(dice.randint(1, 2))]
        self.events: list[Event] = []
        # Half the farms are run well, or no prompt but the loudest would ever be heard.
        self.calm = dice.random() < 0.5

    def made(self) -> dict[str, Any]:
        self.records()
        self.states()
        self.barn()
        if self.calm:
            self.calm_meals()
        else:
            self.meals()
        if self.dice.random() < 0.04:
            self.bad_bag()
        for _ in range(self.dice.randint(0, 4 if self.calm else 15)):
            self.observed()
        for _ in range(0 if self.calm else self.dice.randint(0, 3)):
            self.odd()
        for _ in range(0 if self.calm else self.dice.randint(0, 5)):
            self.link()
        for kind, subject, data, v in random_year.entries(self.dice, self.does, self.date):
            self.add(kind, subject, data, self.date(), v=v)
        log = [{"ev": event, "eff": self.eff()} for event in self.events]
        log += self.dice.choices(log, k=self.dice.randint(0, 3))
        self.dice.shuffle(log)
        made = RandomOutlook(self.dice, TODAY, self.calm)
        outlooks = {doe: made.outlook(doe, self.events) for doe in self.does if self.dice.random() < 0.9}
        day = TODAY if self.calm else shift(TODAY, self.dice.choice((0, 0, 0, 0, 1, -1, 30, 50)))
        return {"log": log, "outlooks": outlooks, "book": made.book(), "day": day}

    def add(self, kind: str, subject: str, data: dict[str, Any], on: str = TODAY, slot: str = "", v: int = 1) -> Event:
        dice, n = self.dice, len(self.events)
        back = (int(on[8:]) if len(on) == 10 else 0) * DAY_MS
        event = {
            "id": f"e{n:04}",
            "kind": kind,
            "v": v,
            "subject": subject,
            "on": on,
            "slot": slot,
            "happened": NOON_MS - 15 * DAY_MS + back + dice.randrange(-5, 5) * 3_600_000,
            "entered": NOON_MS + n,
            "hlc": f"{dice.randrange(200):012x}-{dice.randrange(2):04x}-0000000{dice.choice('ab')}",
            "author": dice.choice(("ada", "bea")),
            "device": "d1",
            "data": data,
        }
        self.events.append(event)
        return event

    def eff(self) -> dict[str, Any] | None:
        if self.dice.random() < 0.95:
            return None
        happened, on = NOON_MS - self.dice.randrange(9) * DAY_MS, shift(TODAY, -self.dice.randrange(9))
        return {"happened": happened, "on": on} if happened < NOON_MS else {"odd": 1}

    def date(self, back: int = 9, ahead: int = 1) -> str:
        return shift(TODAY, self.dice.randint(-back, ahead))

    def base(self) -> str:
        return self.dice.choice(("", self.dice.choice(self.events)["hlc"] if self.events else ""))

    def bases(self) -> dict[str, str]:
        return {"size": self.base(), "name": self.base()}

    def records(self) -> None:
        dice = self.dice
        for kind, ids in (("doe", self.does), ("pen", self.pens), ("lot", ["lot1"]), ("feed", ["own1"])):
            for subject in ids:
                for _ in range(dice.choice((1, 1, 1, 2))):
                    self.add(kind, subject, {"f": self.fields(kind), "base": self.bases()})
        if dice.random() < 0.4:
            self.add("rules", "farm", {"f": {"level_pm": dice.randint(20, 300)}, "base": {"level_pm": self.base()}})

    def fields(self, kind: str) -> dict[str, Any]:
        dice = self.dice
        every: dict[str, dict[str, Any]] = {
            "doe": {
                "name": dice.choice(("Fern", "Moß", "\U0001f410", "\uffee")),
                "size": dice.choice(("mini", "standard")),
                "wont_eat": dice.choice(([], [], [], ["hay"], ["alfalfa", "lot1"], "hay")),
                "sex": dice.choice(("doe",) * 12 + ("buck",)),
            },
            "pen": {"name": "Pen", "waste_pm": dice.choice((0, 100, 300))},
            "lot": {"name": "Lot", "feed": dice.choice(("hay", "alfalfa", "gone")), **random_barn.lot(dice, self.date)},
            "feed": {"name": "Own", "like": dice.choice(("barley", "", "hay"))},
        }
        return every[kind]

    def states(self) -> None:
        dice = self.dice
        for doe in self.does:
            for _ in range(0 if self.calm else dice.choice((0, 1, 1, 1, 2))):
                self.add("moved", doe, {"pen": dice.choice([*self.pens, *self.pens, ""])}, self.date(12))
            if self.calm or dice.random() < 0.8:
                on = dice.choice(("2026-08-01", "2026-08-01", "2026-09-10"))
                to = dice.choice((on, on, "2026-09-20", ""))
                self.add("bred", doe, {"from_on": on, "to_on": to, "how": "pen", "buck": ""}, on)
            for kind in ("preg_check", "dried_off", "kidded", "left_herd"):
                if not self.calm and dice.random() < 0.12:
                    data = random_barn.state(dice, kind)
                    self.add(kind, doe, data, self.date(), v=random_barn.version(kind, data))
            for _ in range(dice.choice((0,) * 6 + (1, 2, 3))):
                self.add("freeze", doe, random_barn.freeze(dice, self.date), self.date(6))
            for _ in range(dice.choice((0,) * 5 + (1, 2, 3))):
                self.add("treatment", doe, random_barn.treatment(dice, self.date), self.date(400))

    def barn(self) -> None:
        """People, shelf, scoops and jars; a weighing may come before its scoop, or for none."""
        dice = self.dice
        for kind, f in random_barn.records(dice, FEEDS).items():
            for _ in range(dice.choice((0, 0, 1, 2))):
                self.add(kind, f"{kind}1", {"f": f, "base": {name: self.base() for name in f}})
        for _ in range(dice.choice((0, 0, 1, 3))):
            subject = dice.choice(("scoop1", "lot1", "nobody"))
            self.add("calibration", subject, random_barn.calibration(dice), self.date())
        for _ in range(dice.choice((0, 0, 1, 2))):
            self.add("new_bag", "farm", {"feed": random_barn.mostly(dice, FEEDS, (3,))}, self.date())
        for kind, subject, data in random_barn.media(dice, (*self.does, "scoop1", "nobody")):
            self.add(kind, subject, data, self.date())

    def meals(self) -> None:
        dice = self.dice
        planned = dice.sample(SLOTS, dice.randint(0, 2))
        for subject in (*self.pens, *self.does):
            for slot in planned:
                for _ in range(dice.choice((0, 1, 1, 2))):
                    self.ration(subject, slot)
        eaten = dice.random()
        for back in range(-1, 9):
            for pen in self.pens:
                for slot in planned or ("morning",):
                    if dice.random() < eaten:
                        self.fed(pen, shift(TODAY, -back), slot)
                        self.intake(shift(TODAY, -back), slot)

    def calm_meals(self) -> None:
        """One pen on hay, each doe's grain on the stand, fed as planned; what is to change stands in the plan."""
        dice, pen = self.dice, self.pens[0]
        for doe in self.does:
            self.add("moved", doe, {"pen": pen}, shift(TODAY, -14))
        shared, own = dice.choice(("hay", "alfalfa")), dice.choice((0, 0, 60, 120, 280))
        heads = dice.choice((1000, 1300, 1500)) * len(self.does)
        self.plan(pen, shared, heads)
        for doe in self.does:
            self.plan(doe, "barley", own)
        if dice.random() < 0.5:
            other, on = dice.choice(("hay", "alfalfa")), shift(TODAY, dice.randint(1, 12))
            # some of it, or all at once
            stays = dice.choice((0, heads * 3 // 4))
            self.plan(pen, shared, stays, on)
            self.plan(pen, other, dice.choice((heads, 2 * heads)) - stays, on)
        if dice.random() < 0.3:
            for x100, back in ((350, 20), (300, 1)):
                self.add("score", dice.choice(self.does[:2]), {"x100": x100}, shift(TODAY, -back))
        for back in range(9):
            bowls = [{"to": doe, "feed": "barley", "g": own} for doe in self.does]
            lines = [{"to": "", "feed": shared, "g": heads}, *bowls]
            if back or dice.random() < 0.5:
                self.add("fed", pen, {"lines": lines, "adds": False}, shift(TODAY, -back), "morning")

    def plan(self, subject: str, what: str, g: int, on: str = "2026-10-01") -> None:
        data = {"to": "pen", "slot": "morning", "feed": what, "steps": [{"on": on, "g": g}], "base": ""}
        self.add("ration", subject, data)["hlc"] = f"{len(self.events):012x}-ffff-0000000a"

    def ration(self, subject: str, slot: str) -> None:
        dice, big = self.dice, subject in self.pens
        dates = [self.date(*((20, 1) if k == 0 else (-1, 14))) for k in range(dice.randint(1, 3))]
        steps = [{"on": on, "g": self.grams(big)} for on in dates]
        data = {"to": "pen", "slot": slot, "feed": dice.choice(FEEDS), "steps": steps, "base": self.base()}
        if not big and dice.random() < 0.2:
            data |= {"feed": "barley", "steps": [{"on": shift(TODAY, k), "g": 20 * k} for k in range(1, 6)]}
        self.add("ration", subject, data)
        for kind, more in random_barn.wished(dice, slot, data, f"e{len(self.events):04}"):
            self.add(kind, subject, more)

    def grams(self, big: bool) -> int:
        return self.dice.choice((0, 37, 100, 150, 333)) if not big else self.dice.choice((0, 1000, 2500, 4001, 9000))

    def fed(self, pen: str, on: str, slot: str) -> None:
        dice = self.dice
        lines = [{"to": "", "feed": dice.choice(FEEDS), "g": self.grams(True)} for _ in range(dice.randint(0, 2))]
        lines += [
            {"to": doe, "feed": dice.choice(FEEDS), "g": self.grams(False)} for doe in self.does if dice.random() < 0.6
        ]
        subject = dice.choice((pen, pen, pen, dice.choice(self.does)))
        for _ in range(dice.choice((1, 1, 1, 1, 2))):
            self.add("fed", subject, {"lines": lines, "adds": dice.random() < 0.2}, on, slot)

    def bad_bag(self) -> None:
        """Two or three leave what came out of one bag."""
        on = self.date(3, 0)
        self.add("new_bag", "farm", {"feed": "hay"}, on)
        for doe in self.does:
            line = {"to": doe, "feed": "hay", "g": self.grams(False)}
            self.add("fed", doe, {"lines": [line], "adds": False}, on, "morning")
            self.add("intake", doe, {"how": "left_some", "left_pct": 30, "feed": "", "fed": ""}, TODAY, "evening")

    def intake(self, on: str, slot: str) -> None:
        dice = self.dice
        if dice.random() < 0.3:
            how = dice.choice(("ate_all", "left_some", "left_some", "refused", "slow", "not_up"))
            fed = dice.choice(("", self.events[-1]["id"], "gone"))
            left_pct = dice.choice((0, dice.randint(0, 100)))
            data = {"how": how, "left_pct": left_pct, "feed": dice.choice(("", "", "barley", "hay")), "fed": fed}
            self.add("intake", dice.choice([*self.does, *self.pens]), data, on, slot)

    def observed(self) -> None:
        dice, kind = self.dice, self.dice.choice(random_barn.OBSERVED)
        intakes = [e["id"] for e in self.events if e["kind"] == "intake"]
        data = random_barn.observation(dice, kind, intakes)
        if kind == "weight" and dice.random() < 0.3:
            self.add(kind, dice.choice(self.does), {"kg_x10": dice.randint(100, 700)}, self.date(40), v=1)
            return
        slot, back = dice.choice(("", *SLOTS)), 1 if kind in random_barn.RECENT else 40
        doe = dice.choice(self.does)
        self.add(kind, doe, data, self.date(back), slot, v=random_barn.version(kind, data))
        if kind == "triage" and dice.random() < 0.5:
            self.add("freeze", doe, random_barn.freeze(dice, self.date), self.date(1), slot)

    def odd(self) -> None:
        """What a newer app, a broken one, or another order of arrival brings."""
        kind, subject, data = self.dice.choice(random_barn.odd(self.dice.choice(self.does)))
        self.add(kind, subject, data, self.date(5), self.dice.choice(("", "morning")))

    def link(self) -> None:
        dice = self.dice
        target = dice.choice([*self.events, {"id": "gone", "subject": "gone", "kind": "score"}])
        if dice.random() < 0.6:
            self.add("void", target["subject"], {"of": target["id"]})
            return
        data: dict[str, Any] = {"of": target["id"], "data": random_barn.again(dice, target)}
        if dice.random() < 0.5:
            data |= {"on": self.date(20), "slot": dice.choice(SLOTS), "happened": NOON_MS - dice.randrange(9) * DAY_MS}
        if dice.random() < 0.1:
            data |= {"on": 5, "happened": "late", "slot": None}
        self.add("correct", target["subject"], data)


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("count", type=int)
    parser.add_argument("--seed", type=int, default=1)
    for case in cases(**vars(parser.parse_args())):
        results = evaluate(case["view"], case["outlooks"], case["book"], case["day"])
        sys.stdout.write(json.dumps({**case, "view": canonical(case["view"]), "results": canonical(results)}) + "\n")


if __name__ == "__main__":
    main()
