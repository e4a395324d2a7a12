"""Several does at one feeder, judged by the real compiler, fold and evaluation. Days count from today."""

from __future__ import annotations

from datetime import date
from typing import Any

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from herd.state.kinds import CHAINS, SHAPES_OUTLOOK
from tests.support.log import Log

TODAY = "2026-11-20"
LONG_AGO = -400
MEALS = ("morning", "evening")
MINIATURE: dict[str, Any] = {"size": "mini", "breed": "nigerian_dwarf", "born_on": "2022-03-01", "kiddings_before": 2}
STANDARD: dict[str, Any] = {"size": "standard", "breed": "grade", "born_on": "2021-03-01", "kiddings_before": 3}


class SomeDoes:
    """Pens and does by name; each doe bred so many days ago, or open. Another pen is made for whoever stands in it."""

    def __init__(self) -> None:
        self.log = Log()
        self.pens: dict[str, list[str]] = {}
        self.planned: dict[tuple[str, str, str], list[tuple[int, int]]] = {}
        self.opened: dict[int, tuple[int, FarmDay]] = {}

    @property
    def names(self) -> list[str]:
        return [name for names in self.pens.values() for name in names]

    def on(self, day: int) -> str:
        return shift(TODAY, day)

    def doe(self, name: str, kg: int, gest: int, kids: int, pen: str = "pen", **fields: Any) -> None:
        """`gest`: day of gestation today; 0 for a doe that is open."""
        if pen not in self.pens:
            self.pens[pen] = []
            self.log.add("pen", pen, {"f": {"name": pen.title()}, "base": {"name": ""}}, self.on(LONG_AGO))
        self.pens[pen].append(name)
        made = {"name": name.title(), "keeper": "even", "mature_kg": kg, **fields}
        self.log.add("doe", name, {"f": made, "base": dict.fromkeys(made, "")}, self.on(LONG_AGO))
        self.log.add("moved", name, {"pen": pen}, self.on(LONG_AGO))
        self.log.add("weight", name, {"g": kg * 1000, "how": "scale", "girth_mm": 0, "length_mm": 0}, self.on(-70))
        if gest:
            bred = self.on(-gest)
            self.log.add("bred", name, {"from_on": bred, "to_on": bred, "how": "hand", "buck": ""}, bred)
        if kids:
            checked = {"result": "pregnant", "kids": kids, "how": "scan"}
            self.log.add("preg_check", name, checked, self.on(50 - gest))

    def lot(self, name: str, feed: str, flake_g: int) -> None:
        """Hay in the barn, its flake weighed."""
        made = {"name": name.title(), "feed": feed, "opened_on": self.on(-30)}
        self.log.add("lot", name, {"f": made, "base": dict.fromkeys(made, "")}, self.on(-30))
        self.weighed(name, "flake", flake_g)

    def scoop(self, name: str, feed: str, scoop_g: int) -> None:
        made = {"name": name.title(), "feed": feed, "order": 0, "gone": False}
        self.log.add("scoop", name, {"f": made, "base": dict.fromkeys(made, "")}, self.on(-30))
        self.log.add("new_bag", "farm", {"feed": feed}, self.on(-16))
        self.weighed(name, "scoop", scoop_g)

    def weighed(self, what: str, of: str, g: int) -> None:
        self.log.add("calibration", what, {"of": of, "fills_g": [g] * 10, "lot": ""}, self.on(-10))

    def scored(self, name: str, x100: int, *days: int) -> None:
        for day in days:
            self.log.score(name, self.on(day), x100)

    def plan(self, subject: str, slot: str, feed: str, *steps: tuple[int, int]) -> None:
        self.log.ration(subject, slot, feed, *((self.on(day), g) for day, g in steps), base="")
        self.planned[subject, slot, feed] = sorted(steps)

    def given(self, subject: str, **grams_a_day: int) -> None:
        """In two meals, for the last two months."""
        for slot in MEALS:
            for feed, g in grams_a_day.items():
                self.plan(subject, slot, feed, (-60, g // 2))

    def fed_as_planned(self, first: int, last: int) -> None:
        for day in range(first, last + 1):
            for pen, does in self.pens.items():
                self.fed(pen, does, day)

    def fed(self, pen: str, does: list[str], day: int) -> None:
        meals: dict[str, list[tuple[str, str, int]]] = {}
        for (subject, slot, feed), steps in self.planned.items():
            g = [grams for start, grams in steps if start <= day][-1:]
            if subject in (pen, *does) and g and g[0]:
                meals.setdefault(slot, []).append(("" if subject == pen else subject, feed, g[0]))
        for slot in sorted(meals):
            self.log.fed(pen, self.on(day), slot, *meals[slot])

    def view(self, day: int = 0) -> dict[str, Any]:
        ahead = ("ration", "moved")
        return fold([event for event in self.log.events if event["on"] <= self.on(day) or event["kind"] in ahead])

    def farm(self, day: int = 0) -> FarmDay:
        """The same as long as nothing more was written."""
        if day not in self.opened or self.opened[day][0] != len(self.log.events):
            view = self.view(day)
            opened = FarmDay(view, self.outlooks(day), dict(compile_book(view)), self.on(day))
            self.opened[day] = (len(self.log.events), opened)
        return self.opened[day][1]

    def outlooks(self, day: int) -> dict[str, Any]:
        kinds = (*SHAPES_OUTLOOK, *CHAINS)
        view = fold([e for e in self.log.events if e["on"] <= self.on(day) and e["kind"] in kinds])
        fields = view["rules"]["f"]
        rules = {**fields, **rules_of(fields)}
        on = date.fromisoformat(self.on(day))
        return {name: dict(compile_doe(view["does"][name], rules, on, name)) for name in self.names}

    def acts(self, subject: str, day: int = 0) -> dict[str, Any]:
        return dict(self.farm(day).ask("acts", subject))

    def adopt(self, act: dict[str, Any], day: int = 0) -> None:
        """What one tap writes, on a day."""
        if act.get("moves"):
            self.move(act["moves"]["doe"], act["moves"]["pen"])
        for line in act["lines"]:
            steps = [(days_from_today(on), g) for on, g in line["steps"]]
            place = (line["subject"], line["slot"], line["feed"])
            held = self.planned.get(place, [])
            base = self.view(day)["rations"].get("|".join(place), {}).get("hlc", "")
            self.log.add(
                "ration",
                line["subject"],
                {
                    **{key: line[key] for key in ("to", "slot", "feed")},
                    "base": base,
                    "steps": [{"on": on, "g": g} for on, g in line["steps"]],
                    "act": act["code"],
                    **act["brings"],
                    "reason": "",
                },
                self.on(day),
                v=2,
            )
            self.planned[place] = [step for step in held if step[0] < steps[0][0]] + steps

    def move(self, name: str, pen: str) -> None:
        """Tomorrow, to a pen that is made where there is none; what is fed from now on is fed there."""
        if pen not in self.pens:
            self.pens[pen] = []
            self.log.add("pen", pen, {"f": {"name": pen.title()}, "base": {"name": ""}}, TODAY)
        for does in self.pens.values():
            if name in does:
                does.remove(name)
        self.pens[pen].append(name)
        self.log.add("moved", name, {"pen": pen}, self.on(1))


def days_from_today(on: str) -> int:
    return (date.fromisoformat(on) - date.fromisoformat(TODAY)).days


def word(farm: FarmDay, name: str) -> str:
    prompt = farm.ask("results")["does"][name]["prompt"]
    return str(prompt["code"]) if prompt else ""
