"""An udder that is not well stands until somebody writes that it is; a call to the vet comes before the looks."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.tables import PROMPTS
from tests.outlook.test_dam_looks import DAM_WELL, dam_words, look_at_dam
from tests.outlook.test_kidding_safety import afterbirth, kidded
from tests.outlook.test_off_feed import doe_at, judged
from tests.outlook.test_off_feed_found import check
from tests.support.flat_doe import TODAY
from tests.support.log import Log

LOOKED_FOR = {"drank": "", "ate": "", "halves": "", "discharge": "", "bright": ""}


def felt(log: Log, on: str, how: str) -> None:
    log.add("udder", "fern", {"fill": 2, "uneven": False, "felt": how}, on, v=2)


def dam(log: Log, on: str, halves: str) -> None:
    log.add("dam_look", "fern", {**LOOKED_FOR, "halves": halves}, on, "late")


def given(log: Log, on: str, who: str) -> None:
    data = {"product": "P", "told": "", "why": "", "who": who, "milk_until": "", "meat_until": "", "carries": []}
    log.add("treatment", "fern", data, on)


def code(log: Log, over: dict[str, Any]) -> str:
    prompt = judged(log, over)["prompt"]
    return str(prompt["code"]) if prompt else ""


@pytest.mark.parametrize(
    ("write", "what", "word"),
    [
        (lambda log, on: check(log, on, udder="hot"), "hot", "udder_watch"),
        (lambda log, on: check(log, on, udder="clots"), "clots", "udder_watch"),
        (lambda log, on: check(log, on, udder="cold"), "cold", "udder_vet"),
        (lambda log, on: felt(log, on, "hard"), "hard", "udder_watch"),
        (lambda log, on: dam(log, on, "hot"), "hot", "udder_watch"),
    ],
)
def test_a_bad_udder_stands_until_somebody_writes_that_it_is_well(write: Any, what: str, word: str) -> None:
    log, over = doe_at("milk")
    write(log, shift(TODAY, -9))
    assert code(log, over) == word, what
    # another look at her that says nothing of her udder does not end it
    check(log, shift(TODAY, -2), belly="fine")
    dam(log, shift(TODAY, -2), "one")
    assert code(log, over) == word
    check(log, udder="fine")
    assert code(log, over) != word


@pytest.mark.parametrize("well", [lambda log: felt(log, TODAY, "soft"), lambda log: dam(log, TODAY, "both")])
def test_well_by_any_door_ends_it(well: Any) -> None:
    log, over = doe_at("milk")
    check(log, shift(TODAY, -3), udder="hot")
    well(log)
    assert code(log, over) != "udder_watch"


def test_what_the_vet_gave_answers_the_call_and_not_the_udder() -> None:
    log, over = doe_at("milk")
    check(log, shift(TODAY, -3), udder="hot")
    given(log, shift(TODAY, -2), "label")
    assert "why" not in judged(log, over)["prompt"]["args"]
    given(log, shift(TODAY, -2), "vet")
    prompt = judged(log, over)["prompt"]
    assert (prompt["code"], prompt["args"]["why"]) == ("udder_watch", "vet")


def test_what_a_hand_found_well_ends_the_call_on_her_kids_page() -> None:
    night = kidded()
    afterbirth(night, 0.5, "passed")
    look_at_dam(night, 12, **{**DAM_WELL, "halves": "hot"})
    assert ("dam_vet", "hot") in dam_words(night)
    check(night[0], TODAY, udder="fine")
    assert [one for one, _ in dam_words(night)] == ["dam_wait"]


@pytest.mark.parametrize("word", ["udder_watch", "overdue"])
def test_a_call_to_the_vet_is_looked_at_before_anything_else(word: str) -> None:
    row = PROMPTS["prompts"][word]
    assert (row["rank"], row.get("look_now")) == (2, True)
