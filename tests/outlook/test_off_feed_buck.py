"""A buck off his feed: watched until a full stream is seen, and nothing else clears him."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.state.fold import fold
from tests.outlook.test_off_feed import doe_at, judged, look
from tests.support.flat_doe import TODAY
from tests.support.log import Log
from tests.support.outlooks import book

MIN_MS, HOUR_MS = 60_000, 3_600_000


def off_feed(how: str = "left_some") -> tuple[Log, dict[str, Any], int]:
    log, over = doe_at("buck")
    log.intake("fern", TODAY, "morning", how, 30)
    return log, over, int(log.events[-1]["happened"])


def at(log: Log, now_ms: int) -> str:
    said = FarmDay(fold(log.events), {}, book(), TODAY).ask("prompt_at", "fern", now_ms)
    return str(said["code"])


@pytest.mark.parametrize("how", ["left_some", "slow", "refused"])
def test_he_is_watched_now_and_without_a_stream_within_the_hour_the_vet_comes(how: str) -> None:
    log, over, began = off_feed(how)
    args = judged(log, over)["off_feed"]["args"]
    assert (args["urgency"], args["vet_at_ms"], args["rests"]) == ("now", began + 60 * MIN_MS, ["no_stream"])
    assert at(log, began + 59 * MIN_MS) == "off_feed_now"
    assert at(log, began + 60 * MIN_MS) == "off_feed_vet"


def test_nothing_seen_to_pass_does_not_stop_the_hour() -> None:
    log, over, began = off_feed()
    look(log, "", passes="nothing")
    assert at(log, began + 59 * MIN_MS) == "off_feed_now"
    assert at(log, began + 61 * MIN_MS) == "off_feed_vet"
    assert judged(log, over)["off_feed"]["args"]["passes"] == "nothing"


@pytest.mark.parametrize("seen", [{"strains": "yes"}, {"passes": "drips"}, {"passes": "drips", "strains": "yes"}])
def test_straining_and_dribbling_are_the_vets_and_nobody_watches_first(seen: dict[str, str]) -> None:
    log, over, _ = off_feed()
    look(log, "", **seen)
    args = judged(log, over)["off_feed"]["args"]
    assert (args["urgency"], args["rests"], args["vet_at_ms"]) == ("vet_now", ["stones"], 0)


def test_he_need_not_have_left_anything() -> None:
    log, over = doe_at("buck")
    assert judged(log, over)["off_feed"] is None
    look(log, "", strains="yes")
    assert judged(log, over)["off_feed"]["args"]["urgency"] == "vet_now"


def test_a_stream_clears_that_look_only() -> None:
    log, over, _ = off_feed()
    look(log, "", passes="stream", strains="no")
    streamed = int(log.events[-1]["happened"])
    args = judged(log, over)["off_feed"]["args"]
    assert (args["urgency"], args["recheck_ms"]) == ("watch", streamed + 4 * HOUR_MS)
    assert at(log, streamed + 4 * HOUR_MS) == "off_feed_watch"
    assert at(log, streamed + 5 * HOUR_MS) == "off_feed_vet"


@pytest.mark.parametrize("ease", ["eating", "ate_all"])
@pytest.mark.parametrize("stream", [False, True])
def test_ease_without_a_stream_is_no_recovery(ease: str, stream: bool) -> None:
    log, over, _ = off_feed()
    if stream:
        look(log, "", "midday", passes="stream")
    if ease == "eating":
        look(log, "eating", "evening")
    else:
        log.intake("fern", TODAY, "evening", "ate_all")
    assert (judged(log, over)["off_feed"] is None) == stream


def test_a_clean_feeding_of_the_pen_does_not_clear_him_either() -> None:
    log, over = doe_at("buck")
    log.intake("fern", shift(TODAY, -1), "evening", "left_some", 20)
    log.fed("p", TODAY, "morning", ("fern", "hay", 500))
    assert judged(log, over)["off_feed"] is not None


def test_a_case_that_ended_is_not_counted_into_the_next() -> None:
    log, over = doe_at("buck")
    log.intake("fern", shift(TODAY, -3), "morning", "refused")
    look(log, "", "midday", on=shift(TODAY, -3), passes="stream")
    look(log, "eating", "evening", on=shift(TODAY, -3))
    log.intake("fern", TODAY, "morning", "left_some", 20)
    args = judged(log, over)["off_feed"]["args"]
    assert (args["meals"], args["since_ms"]) == (1, log.events[-1]["happened"])


def test_the_vet_who_knows_waits_for_nobody() -> None:
    log, over, began = off_feed("refused")
    look(log, "vet_called")
    assert judged(log, over)["off_feed"]["args"]["vet_at_ms"] == 0
    assert at(log, began + 10 * HOUR_MS) == "off_feed_now"


def test_neither_ketones_nor_udder_is_asked_of_him() -> None:
    log, over, _ = off_feed()
    assert judged(log, over)["off_feed"]["args"]["take"] == "temp"
