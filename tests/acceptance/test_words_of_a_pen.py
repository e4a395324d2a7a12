"""What does of one pen hear about the feed they share: real compiler, fold and evaluation, several does."""

from __future__ import annotations

from datetime import date
from typing import Any

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from tests.acceptance.test_named_does import ALFALFA, BRED_ON, STANDARD
from tests.support.log import Log
from tests.support.one_doe import scale

GRASS = "grass_hay_general"


class Pen:
    """Grown does on one feeder; days are those since BRED_ON, when they were bred unless said otherwise."""

    def __init__(self, *does: str, **bred: int) -> None:
        self.log, self.does = Log(), does
        self.log.add("pen", "pen", {"f": {"name": "Pen"}, "base": {}}, self.on(-300))
        for doe in does:
            self.bring(doe, -300, bred.get(doe, 0))

    def on(self, day: int) -> str:
        return shift(BRED_ON, day)

    def bring(self, doe: str, day: int, bred: int = 0) -> None:
        fields = {"name": doe.title(), "keeper": "even", "mature_kg": 60, **STANDARD}
        self.log.add("doe", doe, {"f": fields, "base": {}}, self.on(-300))
        self.log.add("moved", doe, {"pen": "pen"}, self.on(day))
        self.log.add("weight", doe, scale(60_000), self.on(5))
        served = {"from_on": self.on(bred), "to_on": self.on(bred), "how": "hand", "buck": ""}
        self.log.add("bred", doe, served, self.on(bred))
        self.log.add("preg_check", doe, {"result": "pregnant", "kids": 2, "how": "scan"}, self.on(bred + 50))

    def fed(self, first: int, last: int, **grams: int) -> None:
        """So many grams of each feed in the feeder in one meal a day, planned and given."""
        for feed, g in grams.items():
            self.log.ration("pen", "morning", feed, (self.on(first), g), base="")
        for day in range(first, last + 1):
            self.log.fed("pen", self.on(day), "morning", *(("", feed, g) for feed, g in grams.items()))

    def said(self, day: int) -> dict[str, Any]:
        view = fold([event for event in self.log.events if event["on"] <= self.on(day)])
        fields = view["rules"]["f"]
        rules = {**fields, **rules_of(fields)}
        today = date.fromisoformat(self.on(day))
        looks = {doe: compile_doe(row, rules, today, doe) for doe, row in view["does"].items()}
        farm = FarmDay(view, {doe: dict(look) for doe, look in looks.items()}, dict(compile_book(view)), self.on(day))
        return dict(farm.ask("results"))


def codes(said: dict[str, Any]) -> dict[str, str]:
    return {doe: (result["prompt"] or {"code": ""})["code"] for doe, result in said["does"].items()}


def test_where_a_pen_is_to_be_fed_more_its_fat_doe_hears_of_a_feeder_of_her_own() -> None:
    pen = Pen("ash", "bay", "fern")
    pen.fed(100, 118, **{GRASS: 4400})
    for doe in ("ash", "bay"):
        pen.log.score(doe, pen.on(103), 300)
        pen.log.score(doe, pen.on(116), 225)
    pen.log.score("fern", pen.on(116), 375)
    said = pen.said(118)
    assert said["pens"]["pen"]["prompt"]["code"] == "energy_short"
    assert codes(said)["fern"] == "condition_fat"
    assert said["does"]["fern"]["prompt"]["args"]["apart"] is True


def test_where_a_pen_is_to_be_eased_its_thin_doe_hears_of_a_feeder_of_her_own() -> None:
    pen = Pen("ash", "bay", "fern")
    pen.fed(30, 60, **{ALFALFA: 3200, GRASS: 3200})
    for doe in ("ash", "bay"):
        pen.log.score(doe, pen.on(40), 350)
        pen.log.score(doe, pen.on(58), 400)
    pen.log.score("fern", pen.on(58), 225)
    said = pen.said(60)
    assert said["pens"]["pen"]["prompt"]["code"] == "energy_over"
    assert codes(said)["fern"] == "condition_thin"
    assert said["does"]["fern"]["prompt"]["args"]["apart"] is True


def test_alone_in_her_case_she_hears_of_her_own_feed() -> None:
    pen = Pen("ash", "bay", "fern")
    pen.fed(100, 128, **{GRASS: 6600})
    for doe in ("ash", "bay"):
        pen.log.score(doe, pen.on(126), 300)
    pen.log.score("fern", pen.on(126), 425)
    said = pen.said(128)
    assert said["pens"]["pen"]["prompt"] is None
    assert "apart" not in said["does"]["fern"]["prompt"]["args"]


def one_more_mouth(comes: int) -> Pen:
    pen = Pen("ash", "bay")
    pen.bring("fern", comes)
    pen.fed(100, 126, **{GRASS: 3600})
    for doe in ("ash", "bay", "fern"):
        pen.log.score(doe, pen.on(122), 300)
    return pen


def test_one_more_at_the_feeder_is_named_as_what_thins_the_plan_since_a_day_that_was() -> None:
    pen = one_more_mouth(comes=125)
    said = pen.said(126)["does"]["ash"]["prompt"]
    assert said["code"] == "net_cut_late"
    args = said["args"]
    assert (args["cause"], args["on"], args["who"]) == ("mouths", pen.on(125), ["fern"])


def test_a_ration_that_falls_is_named_as_the_plan() -> None:
    pen = Pen("ash", "bay")
    pen.fed(100, 126, **{GRASS: 3600})
    before = next(event["hlc"] for event in pen.log.events if event["kind"] == "ration")
    pen.log.ration("pen", "morning", GRASS, (pen.on(100), 3600), (pen.on(129), 2400), base=before)
    for doe in ("ash", "bay"):
        pen.log.score(doe, pen.on(122), 300)
    said = pen.said(126)["does"]["ash"]["prompt"]
    assert (said["code"], said["args"]["cause"], said["args"]["on"]) == ("net_cut_late", "", pen.on(129))


def legume_pen(thin: bool) -> dict[str, Any]:
    pen = Pen("ash", "bay", "fern")
    pen.fed(100, 126, **{ALFALFA: 7200})
    for doe in ("ash", "bay"):
        pen.log.score(doe, pen.on(122), 300)
    pen.log.score("fern", pen.on(122), 225 if thin else 300)
    return pen.said(126)


def test_no_legume_leaves_a_feeder_at_which_a_thin_late_doe_eats() -> None:
    assert not any(word.startswith("calcium") for word in codes(legume_pen(thin=True)).values())
    assert legume_pen(thin=True)["pens"]["pen"]["prompt"] is None
