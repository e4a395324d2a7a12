"""One doe kept day by day and judged by the real compiler, fold and evaluation: no flat outlook, no made-up need."""

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

Meal = tuple[str, str, int]


class OneDoe:
    """A doe alone in a pen, bred on a date; days are days of her gestation."""

    def __init__(self, bred_on: str, weight_g: int, weighed: int, kids: int, **fields: Any) -> None:
        self.bred_on = bred_on
        self.log = Log()
        self.planned: dict[tuple[str, str, str], list[tuple[int, int]]] = {}
        self.log.add("doe", "doe", {"f": {"name": "Doe", "keeper": "even", **fields}, "base": {}}, self.on(-365))
        self.log.add("pen", "pen", {"f": {"name": "Pen"}, "base": {}}, self.on(-365))
        self.log.add("moved", "doe", {"pen": "pen"}, self.on(-365))
        self.log.add("weight", "doe", scale(weight_g), self.on(weighed))
        self.log.add("bred", "doe", {"from_on": bred_on, "to_on": bred_on, "how": "hand", "buck": ""}, bred_on)
        if kids:
            self.log.add("preg_check", "doe", {"result": "pregnant", "kids": kids, "how": "scan"}, self.on(50))

    def on(self, day: int) -> str:
        return shift(self.bred_on, day)

    def plan(self, subject: str, slot: str, feed: str, *steps: tuple[int, int]) -> None:
        """Grams a day in a slot from each day on, for her ("doe") or the pen."""
        self.log.ration(subject, slot, feed, *((self.on(day), g) for day, g in steps), base="")
        self.planned[subject, slot, feed] = sorted(steps)

    def fed_as_planned(self, first: int, last: int) -> None:
        """Every planned meal, confirmed on every day from first to last."""
        for day in range(first, last + 1):
            meals: dict[str, list[Meal]] = {}
            for (subject, slot, feed), steps in self.planned.items():
                g = [grams for start, grams in steps if start <= day][-1:]
                if g and g[0]:
                    meals.setdefault(slot, []).append(("doe" if subject == "doe" else "", feed, g[0]))
            for slot in sorted(meals):
                self.log.fed("pen", self.on(day), slot, *meals[slot])

    def scored(self, x100: int, *days: int) -> None:
        for day in days:
            self.log.score("doe", self.on(day), x100)

    def result(self, day: int) -> dict[str, Any]:
        """What the phone would say that evening, on an outlook compiled that day."""
        return dict(self.farm(day).ask("results")["does"]["doe"])

    def farm(self, day: int) -> FarmDay:
        view = fold([event for event in self.log.events if event["on"] <= self.on(day)])
        return FarmDay(view, {"doe": self.outlook(day)}, dict(compile_book(view)), self.on(day))

    def outlook(self, day: int) -> dict[str, Any]:
        view = self.shaped(day)
        fields = view["rules"]["f"]
        rules = {**fields, **rules_of(fields)}
        return dict(compile_doe(view["does"]["doe"], rules, date.fromisoformat(self.on(day)), "doe"))

    def shaped(self, day: int) -> dict[str, Any]:
        """What a server compiles from: the kinds that shape an outlook, and no others."""
        kinds = (*SHAPES_OUTLOOK, *CHAINS)
        return fold([e for e in self.log.events if e["on"] <= self.on(day) and e["kind"] in kinds])


def scale(weight_g: int) -> dict[str, Any]:
    return {"g": weight_g, "how": "scale", "girth_mm": 0, "length_mm": 0}


def code(result: dict[str, Any]) -> str:
    return str(result["prompt"]["code"]) if result["prompt"] else ""
