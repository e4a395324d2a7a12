"""A farm of three years, invented day by day: two pens, eight does that kid each spring, every entry kept beside."""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, timedelta
from typing import Any

from tests.logs import record
from tests.phones import Phone, new_id

HAY, LEGUME, GRAIN = "orchardgrass_hay", "alfalfa_hay_mid", "barley_grain"
START, YEARS = date(2023, 9, 1), 3
FIRST_BRED = date(2023, 10, 20)
A_BATCH = 400
HOUR_MS = 3_600_000


def at(on: date, hour: float = 7) -> int:
    return int((datetime(on.year, on.month, on.day, tzinfo=UTC) + timedelta(hours=hour)).timestamp() * 1000)


@dataclass
class ThreeYears:
    """`events`: as they were sent, in that order."""

    phone: Phone
    dice: random.Random = field(default_factory=lambda: random.Random(11))
    events: list[dict[str, Any]] = field(default_factory=list)
    does: list[str] = field(default_factory=lambda: [new_id() for _ in range(8)])
    pens: list[str] = field(default_factory=lambda: [new_id() for _ in range(2)])

    def say(self, kind: str, subject: str, data: dict[str, Any], when: int, **more: Any) -> dict[str, Any]:
        made = self.phone.event(kind, subject, data, happened=when, **more)
        self.events.append(made)
        return made

    def record(self, kind: str, subject: str, fields: dict[str, Any], when: int) -> None:
        self.say(kind, subject, {"f": fields, "base": dict.fromkeys(fields, "")}, when)

    def live(self) -> ThreeYears:
        self.stock()
        for year in range(YEARS):
            for n, doe in enumerate(self.does):
                self.kids(n, doe, FIRST_BRED + timedelta(days=365 * year + 3 * n))
        for d in range(365 * YEARS):
            for n, pen in enumerate(self.pens):
                self.meal(pen, self.does[4 * n : 4 * n + 4], START + timedelta(days=d))
        self.events.sort(key=lambda event: event["happened"])
        for first in range(0, len(self.events), A_BATCH):
            some = self.events[first : first + A_BATCH]
            answers = record(self.phone, *some, now=some[-1]["happened"] + HOUR_MS)
            assert {one["st"] for one in answers} == {"ok"}, [one for one in answers if one["st"] != "ok"][:2]
        return self

    def stock(self) -> None:
        when = at(START - timedelta(days=1))
        for n, pen in enumerate(self.pens):
            self.record("pen", pen, {"name": f"Pen {n}", "order": n}, when)
        for n, doe in enumerate(self.does):
            fields = {"name": f"Doe {n}", "size": "standard", "breed": "alpine", "kiddings_before": 1}
            self.record("doe", doe, fields, when + 1000 * n)
            self.say("moved", doe, {"pen": self.pens[n // 4]}, when + 60_000)

    def kids(self, n: int, doe: str, bred: date) -> None:
        """Doe after doe: bred by hand, scored, dried off, signs, kids with records, a reading of ketones."""
        kidded = bred + timedelta(days=148 + (n + bred.year) % 6)
        first_at = at(kidded, 11)
        hand = {"from_on": bred.isoformat(), "to_on": bred.isoformat(), "how": "hand", "buck": ""}
        self.say("bred", doe, hand, at(bred))
        for on, x100 in (
            (bred, 300),
            (kidded - timedelta(days=60), 300),
            (kidded - timedelta(days=5), 275 + 25 * (n % 3)),
        ):
            self.say("score", doe, {"x100": x100}, at(on, 12))
        self.say("dried_off", doe, {}, at(kidded - timedelta(days=58)))
        self.say("checkup", doe, self.readings(6 if n % 4 else 14), at(kidded - timedelta(days=9)), v=2)
        for hours, seen, absent in (
            (30, [], ["ligaments_gone"]),
            (18, ["ligaments_gone"], []),
            (5, ["mucus_amber"], []),
        ):
            self.say("signs", doe, {"seen": seen, "absent": absent}, first_at - hours * HOUR_MS)
        self.say("signs", doe, {"seen": ["kid_out"], "absent": []}, first_at)
        born = 1 + n % 3
        said = {"born": born, "alive": born - (n == 5), "timed": True}
        self.say("kidded", doe, said, first_at + HOUR_MS, v=2)
        for kid in range(1, born + 1):
            self.kid(doe, kid, kidded, 2500 + 100 * self.dice.randrange(15), "pulled" if n == 5 else "none")
        for d in range(0, 60, 7):
            self.say(
                "milk", doe, {"g": 1200 + 10 * d, "fat_x100": 0}, at(kidded + timedelta(days=d), 6), slot="morning"
            )
            self.say("milk", doe, {"g": 1000, "fat_x100": 0}, at(kidded + timedelta(days=d), 18), slot="evening")

    def kid(self, dam: str, n: int, on: date, birth_g: int, helped: str) -> None:
        fields = {"dam": dam, "n": n, "born_on": on.isoformat(), "sex": "doe", "help": helped, "birth_g": birth_g}
        self.record("kid", new_id(), fields, at(on, 13) + n)

    @staticmethod
    def readings(bhb_x10: int) -> dict[str, Any]:
        seen = {"cud": "", "dung": "", "legs": "", "eyes": 0, "udder": "", "belly": ""}
        return {"temp_c_x10": 0, "bhb_x10": bhb_x10, "urine": "", **seen}

    def meal(self, pen: str, mates: list[str], on: date) -> None:
        """Hay for all, grain for each; now and then something is left, taken back, put right, or the day is missed."""
        dice = self.dice
        if dice.random() < 0.08:
            return
        lines = [{"to": "", "feed": feed, "g": 100 * dice.randrange(20, 60)} for feed in (HAY, LEGUME)]
        lines += [{"to": doe, "feed": GRAIN, "g": 50 * dice.randrange(2, 12)} for doe in mates]
        fed = self.say("fed", pen, {"lines": lines, "adds": False}, at(on), slot="morning")
        chance = dice.random()
        if chance < 0.1:
            left = {"how": "left_some", "left_pct": 25, "feed": "", "fed": fed["id"]}
            self.say("intake", dice.choice([pen, *mates]), left, at(on, 9), slot="morning")
        elif chance < 0.14:
            self.say("void", pen, {"of": fed["id"]}, at(on, 9))
        elif chance < 0.18:
            less = {**fed["data"], "lines": lines[:2]}
            self.say("correct", pen, {"of": fed["id"], "data": less}, at(on, 9))
        elif chance < 0.2:
            moved = {"of": fed["id"], "data": fed["data"], "on": (on + timedelta(days=40)).isoformat()}
            self.say("correct", pen, moved, at(on, 9))
