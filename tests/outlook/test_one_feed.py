"""Two off their feed since one was opened: one cause, said to the herd; one alone, or two on other feed, is not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY
from tests.support.log import Log
from tests.support.outlooks import book

YESTERDAY = shift(TODAY, -1)


def farm() -> Log:
    """Fern and Dot share a feeder, Ada stands in another pen; barley goes to all on the stand."""
    log = Log()
    for doe in ("fern", "dot", "ada"):
        log.record("doe", doe, name=doe.title(), size="standard")
        log.ration(doe, "morning", "barley", ("2026-09-01", 200))
    log.pen("p", "fern", "dot")
    log.pen("q", "ada")
    log.ration("p", "morning", "hay", ("2026-09-01", 4000))
    return log


def bag(log: Log, feed: str = "barley", on: str = YESTERDAY) -> None:
    log.add("new_bag", "farm", {"feed": feed}, on, "morning")


def left(log: Log, *does: str, on: str = TODAY) -> None:
    for doe in does:
        log.intake(doe, on, "evening", "left_some", 30)


def said(log: Log) -> dict[str, Any]:
    return evaluate(fold(log.events), {}, book(), TODAY)


def test_two_off_a_new_bag_are_one_cause_said_to_every_pen_that_gets_it() -> None:
    log = farm()
    bag(log)
    left(log, "fern", "dot")
    results = said(log)
    for doe in ("fern", "dot"):
        assert results["does"][doe]["one_feed"] == {"feed": "barley", "on": YESTERDAY, "does": ["dot", "fern"]}
        assert results["does"][doe]["prompt"]["code"] in ("feed_stop", "off_feed_vet")
    assert results["does"]["ada"]["one_feed"] is None
    assert {pen: row["prompt"]["code"] for pen, row in results["pens"].items()} == {"p": "feed_stop", "q": "feed_stop"}


def test_across_two_pens_too() -> None:
    log = farm()
    bag(log)
    left(log, "fern", "ada")
    assert said(log)["does"]["ada"]["prompt"]["code"] == "feed_stop"


@pytest.mark.parametrize(
    ("feed", "on", "does"),
    [
        ("barley", YESTERDAY, ("fern",)),
        ("barley", shift(TODAY, -9), ("fern", "dot")),
        ("oats", YESTERDAY, ("fern", "dot")),
        ("hay", YESTERDAY, ("fern", "ada")),
    ],
)
def test_one_alone_an_old_bag_and_a_feed_they_do_not_share_say_nothing(
    feed: str, on: str, does: tuple[str, ...]
) -> None:
    log = farm()
    bag(log, feed, on)
    left(log, *does)
    results = said(log)
    assert all(results["does"][doe]["one_feed"] is None for doe in ("fern", "dot", "ada"))


def test_who_was_off_feed_before_it_was_opened_is_not_counted() -> None:
    log = farm()
    left(log, "fern", on=shift(TODAY, -1))
    bag(log, on=TODAY)
    left(log, "dot")
    assert said(log)["does"]["dot"]["one_feed"] is None


def test_a_lot_of_hay_counts_from_the_day_it_was_opened() -> None:
    log = farm()
    log.record("lot", "lot1", name="Second cut", feed="hay", opened_on=YESTERDAY)
    log.ration("p", "evening", "lot1", ("2026-09-01", 4000))
    left(log, "fern", "dot")
    assert said(log)["does"]["fern"]["one_feed"]["feed"] == "lot1"


def test_two_whose_feed_was_new_as_somebody_answered_are_one_cause_without_a_bag_on_record() -> None:
    log = farm()
    left(log, "fern", "dot")
    blank = dict.fromkeys(("of", "water_bad", "bullied", "suspect", "result"), "")
    log.add("triage", "fern", {**blank, "new_feed": "yes"}, TODAY, "late")
    assert said(log)["does"]["fern"]["one_feed"] is None
    log.add("triage", "dot", {**blank, "new_feed": "yes"}, TODAY, "late")
    assert said(log)["does"]["fern"]["one_feed"] == {"feed": "", "on": TODAY, "does": ["dot", "fern"]}


def test_one_that_is_down_hears_of_nothing_else() -> None:
    log = farm()
    bag(log)
    left(log, "dot")
    log.intake("fern", TODAY, "evening", "not_up")
    assert said(log)["does"]["fern"]["prompt"]["code"] == "off_feed_vet"
