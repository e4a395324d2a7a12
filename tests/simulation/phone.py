"""The product as a phone runs it: the farm's events folded, her outlook compiled when her state moves, then judged."""

from __future__ import annotations

from datetime import date
from typing import Any

from frontend import client_build
from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from herd.state.kinds import SHAPES_OUTLOOK

FRESH_D = 7
# Nothing that is judged looks further back on meals.
MEALS_KEPT_D = 40


def built() -> None:
    """The evaluator from the sources as they stand, where a command runs without pytest."""
    client_build.build_engine()


class Phone:
    """Folds on every look; compiles a doe on an event that shapes her outlook, or when hers is a week old."""

    def __init__(self) -> None:
        self.outlooks: dict[str, Any] = {}
        self.compiled: dict[str, tuple[int, int]] = {}
        self.events: list[dict[str, Any]] = []
        self.read = 0
        self.shaping: dict[str, int] = {}
        self.farm: FarmDay | None = None

    def look(self, events: list[dict[str, Any]], day: int, on: str) -> dict[str, Any]:
        for event in events[self.read :]:
            if event["kind"] in SHAPES_OUTLOOK:
                self.shaping[event["subject"]] = self.shaping.get(event["subject"], 0) + 1
        self.events += events[self.read :]
        self.read = len(events)
        edge = shift(on, -MEALS_KEPT_D)
        self.events = [e for e in self.events if e["kind"] not in ("fed", "intake") or e["on"] >= edge]
        view = fold(self.events)
        rules = rules_of(view["rules"]["f"])
        for doe in view["does"]:
            made = self.compiled.get(doe)
            state = self.shaping.get(doe, 0)
            if made is None or made[1] != state or day - made[0] >= FRESH_D:
                self.outlooks[doe] = compile_doe(view["does"][doe], rules, date.fromisoformat(on), doe)
                self.compiled[doe] = (day, state)
        self.farm = FarmDay(view, self.outlooks, dict(compile_book(view)), on)
        return dict(self.farm.ask("results"))

    def ask(self, name: str, *given: Any) -> Any:
        """What more is to be had of the farm as last looked at."""
        assert self.farm is not None
        return self.farm.ask(name, *given)
