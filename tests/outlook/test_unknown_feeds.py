"""What is not known of a feed is never taken for nothing: its dry matter, its class, its energy."""

from __future__ import annotations

import json
from typing import Any

from herd.outlook.book import compile_book
from herd.outlook.evaluate import FarmDay
from herd.outlook.tables import LIKES
from herd.science.feeds.library import feeds
from herd.state.fold import fold
from herd.state.tables import CODES
from tests.support.flat_doe import TODAY, days, held, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, outlook
from tests.support.paths import ROOT


def with_bag(hay_g: int, bag_g: int, slot: str = "evening") -> Log:
    """Fern on hay, and on so much of a bag nobody has described, confirmed for eight days."""
    log = one_doe(hay_g=hay_g)
    held(log)
    log.record("feed", "bag", name="Blue bag")
    log.ration("fern", slot, "bag", ("2026-09-01", bag_g))
    for on in days(8):
        log.fed("p", on, slot, ("fern", "bag", bag_g))
    return log


def test_a_feed_without_dry_matter_is_no_shortfall_and_its_figure_is_asked_for() -> None:
    """700 g of hay is 5,040 of 10,000 kJ: short, were the bag nothing. 600 g of it may be 570 g dry of 14 kJ."""
    said = result(with_bag(700, 600))
    line = said["lines"]["me"]
    assert (line["st"], line["at_least"], line["blank"]) == ("unknown", True, 1)
    assert (said["prompt"]["code"], said["prompt"]["args"]["what"]) == ("record_next", "feed_class")
    shared = one_doe(hay_g=700)
    shared.record("feed", "bag", name="Blue bag", **{"class": "byproduct", "cp_pct_x10": 120})
    for on in days(8):
        shared.fed("p", on, "evening", ("", "bag", 600))
    looks = {"fern": outlook("fern", TODAY)}
    bare = {**book(), "feeds": {**book()["feeds"], "bag": {**book()["feeds"]["mystery"], "dm_pm": None}}}
    said = FarmDay(fold(shared.events), looks, bare, TODAY).ask("results")["does"]["fern"]
    assert said["lines"]["me"]["st"] == "unknown"
    args = said["prompt"]["args"]
    assert (said["prompt"]["code"], args["what"], args["feed"]) == ("record_next", "feed_value", "bag")


def test_so_little_of_it_that_it_cannot_matter_asks_for_nothing() -> None:
    log = with_bag(1400, 5)
    assert result(log)["lines"]["me"]["st"] == "level"


def test_a_bag_that_may_be_grain_is_asked_about_and_one_with_a_class_is_not() -> None:
    said = result(with_bag(1400, 300))
    assert (said["prompt"]["code"], said["prompt"]["args"]["feed"]) == ("record_next", "bag")
    log = with_bag(1400, 20)
    said = result(log)["prompt"]
    assert said is None or said["args"].get("what") != "feed_class"
    log = with_bag(1400, 90)
    log.record("feed", "bag", **{"class": "grain"})
    said = result(log)["prompt"]
    assert said is None or said["args"].get("what") != "feed_class"


def test_a_bag_that_may_be_grain_is_held_while_she_is_off_her_feed() -> None:
    log = with_bag(1400, 100)
    log.ration("fern", "evening", "bag", ("2026-11-21", 200), base=log.events[-9]["hlc"])
    log.add("freeze", "fern", {"until_on": "2026-11-22", "grain_out": False, "of": ""}, TODAY)
    view = fold(log.events)
    lines = FarmDay(view, {"fern": outlook("fern", TODAY)}, book(), TODAY).ask(
        "subject_lines", "fern", "2026-11-21", "evening"
    )
    assert lines == [["bag", 100]]


def test_a_class_alone_gives_the_dry_matter_usual_for_it_and_says_of_which_feed() -> None:
    own: dict[str, Any] = {"mine": {"f": {"name": "Meadow", "class": "grass"}}}
    lots = {"lot": {"f": {"name": "June", "feed": "mine"}}, "tested": {"f": {"feed": "mine", "dm_pct_x10": 861}}}
    found = compile_book({"rules": {"f": {}}, "feeds": own, "lots": lots})["feeds"]
    usual = feeds()[LIKES["grass"]["feed"]]
    assert (found["mine"]["dm_pm"], found["mine"]["dm_of"]) == (usual.dm_pm, usual.id)
    assert found["mine"]["me_kj_kg"] is None, "energy stays unknown: only its dry matter is usual"
    assert (found["lot"]["dm_pm"], found["lot"]["dm_of"]) == (usual.dm_pm, usual.id)
    assert (found["tested"]["dm_pm"], found["tested"].get("dm_of")) == (861, None)


def test_a_class_entered_without_a_signal_counts_at_once() -> None:
    log = Log()
    log.record("feed", "bag", name="Blue bag", **{"class": "grain"})
    log.record("lot", "load", name="March", feed="bag")
    bare = {**book(), "feeds": {**book()["feeds"], "barley_grain": {**book()["feeds"]["barley"], "dm_pm": 890}}}
    farm = FarmDay(fold(log.events), {}, bare, TODAY)
    for feed in ("bag", "load"):
        known = farm.feed(feed)
        assert (known["class"], known["dm_pm"], known["me_kj_kg"]) == ("grain", 890, None)


def test_each_class_has_its_usual_feed_of_that_class_with_dry_matter_and_a_source() -> None:
    assert {*LIKES} == {*CODES["feed_classes"]}
    for of, row in LIKES.items():
        assert feeds()[row["feed"]].feed_class == of
        assert feeds()[row["feed"]].dm_pm
        assert (row["source"], row["standing"]) == ("judgement", "EXPERT")
        assert row["where"]


def test_what_is_asked_for_has_its_words() -> None:
    texts = json.loads((ROOT / "frontend/src/texts/en.json").read_text())
    for what in ("feed_class", "feed_value"):
        assert "{feed}" in texts[f"p.record_next.{what}"]
        assert f"p.record_next.do.{what}" in texts
