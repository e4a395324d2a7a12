"""Straining and the water bag: the stopwatch, when it is the vet's, and who is never called in labour."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.state.fold import fold
from tests.outlook.test_off_feed import doe_at
from tests.support.flat_doe import TODAY, result
from tests.support.log import Log
from tests.support.outlooks import book, outlook

MIN_MS = 60_000
NEAR = {"early": shift(TODAY, 3), "mid": shift(TODAY, 8), "late": shift(TODAY, 12), "printed": shift(TODAY, 8)}
FAR = {"early": shift(TODAY, 7), "mid": shift(TODAY, 12), "late": shift(TODAY, 16), "printed": shift(TODAY, 12)}


def near(due: dict[str, str] | None = None) -> tuple[Log, dict[str, Any]]:
    log, over = doe_at("labour")
    return log, {**over, "due": due or NEAR}


def due(early: int, mid: int, late: int) -> dict[str, str]:
    """So many days from today; printed is her usual date."""
    days = {"early": early, "mid": mid, "late": late, "printed": mid}
    return {name: shift(TODAY, n) for name, n in days.items()}


def seen(log: Log, *signs: str, slot: str = "evening", on: str = TODAY, absent: tuple[str, ...] = ()) -> int:
    """When it was."""
    log.add("signs", "fern", {"seen": list(signs), "absent": list(absent)}, on, slot)
    return int(log.events[-1]["happened"])


def at(log: Log, over: dict[str, Any], now_ms: int) -> dict[str, Any]:
    looks = {"fern": outlook("fern", TODAY, **over)}
    return dict(FarmDay(fold(log.events), looks, book(), TODAY).ask("prompt_at", "fern", now_ms))


@pytest.mark.parametrize(("signs", "minutes", "why"), [(("straining",), 30, "pushing"), (("water_bag",), 60, "water")])
def test_the_stopwatch_runs_out_for_the_vet(signs: tuple[str, ...], minutes: int, why: str) -> None:
    log, over = near()
    began = seen(log, *signs)
    said = at(log, over, began + (minutes - 1) * MIN_MS)
    assert (said["code"], said["args"]["why"], said["args"]["rests"]) == ("labour_now", why, [why])
    assert at(log, over, began + minutes * MIN_MS)["code"] == "labour_vet"


def test_pushing_after_the_water_has_the_earlier_of_both_ends() -> None:
    log, over = near()
    water = seen(log, "water_bag", slot="midday")
    assert seen(log, "straining", slot="evening") > water
    assert result(log, **over)["labour"]["args"]["vet_at_ms"] == water + 60 * MIN_MS


def test_a_kid_starts_it_anew_and_a_recorded_kidding_ends_it() -> None:
    log, over = near()
    seen(log, "straining", slot="midday")
    kid = seen(log, "kid_out")
    assert result(log, **over)["labour"] is None
    again = seen(log, "straining")
    assert again > kid
    assert result(log, **over)["labour"]["args"]["vet_at_ms"] == again + 30 * MIN_MS
    log.add("kidded", "fern", {"born": 2, "alive": 2}, TODAY, "late")
    assert result(log, **over)["labour"] is None


def test_it_outranks_a_left_meal_and_a_refused_one() -> None:
    log, over = near()
    log.intake("fern", TODAY, "morning", "refused")
    assert result(log, **over)["prompt"]["code"] == "off_feed_vet"
    seen(log, "straining")
    said = result(log, **over)
    assert (said["prompt"]["code"], said["off_feed"]["code"]) == ("labour_now", "off_feed_vet")


def test_pushing_that_fades_is_the_vets_and_pushing_that_goes_on_is_not_yet() -> None:
    log, over = near()
    seen(log, "straining", slot="midday")
    assert result(log, **over)["prompt"]["code"] == "labour_now"
    seen(log, absent=("straining",))
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["why"]) == ("labour_vet", "fades")


def test_down_and_pushing_is_the_vets_at_once() -> None:
    log, over = near()
    log.intake("fern", TODAY, "morning", "not_up")
    seen(log, "straining")
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["why"], said["args"]["down"]) == ("labour_vet", "down", True)


def test_more_than_ten_days_early_may_be_a_loss() -> None:
    log, over = near(FAR)
    seen(log, "water_bag")
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["why"]) == ("labour_vet", "too_early")
    log, over = near(NEAR)
    seen(log, "water_bag")
    assert result(log, **over)["prompt"]["code"] == "labour_now"


def test_ten_days_early_is_not_yet_a_loss_and_a_long_window_counts_from_its_first_day() -> None:
    log, over = near(due(6, 10, 14))
    seen(log, "straining")
    assert result(log, **over)["prompt"]["code"] == "labour_now"
    log, over = near(due(4, 24, 44))
    seen(log, "straining")
    assert result(log, **over)["prompt"]["code"] == "labour_now"


def test_a_doe_with_no_breeding_on_record_strains_for_the_vet_and_opens_no_kidding() -> None:
    log, over = doe_at("open")
    seen(log, "straining")
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["why"], said["args"]["vet_at_ms"]) == ("labour_vet", "not_bred", 0)


def test_a_buck_that_strains_opens_no_kidding() -> None:
    log, over = doe_at("buck")
    seen(log, "straining")
    said = result(log, **over)
    assert (said["labour"], said["prompt"]["code"], said["prompt"]["args"]["rests"]) == (
        None,
        "off_feed_vet",
        ["stones"],
    )


def test_after_kidding_straining_is_another_kid_or_an_afterbirth() -> None:
    log, over = doe_at("fresh")
    log.add("kidded", "fern", {"born": 1, "alive": 1}, TODAY, "morning")
    over["basis"]["kidded"] = TODAY
    assert result(log, **over)["labour"] is None
    seen(log, "straining")
    assert result(log, **over)["prompt"]["args"]["why"] == "after_kidding"


def test_what_was_seen_the_day_before_yesterday_is_over() -> None:
    log, over = near()
    seen(log, "straining", on=shift(TODAY, -2))
    assert result(log, **over)["labour"] is None


def test_without_dates_worked_out_the_calendar_counts() -> None:
    log = Log()
    log.record("doe", "fern", name="Fern", size="standard")
    day = shift(TODAY, -138)
    log.add("bred", "fern", {"from_on": day, "to_on": day, "how": "hand", "buck": ""}, day)
    seen(log, "straining")
    looks: dict[str, Any] = {}
    said = FarmDay(fold(log.events), looks, book(), TODAY).ask("prompt_at", "fern", 0)
    assert (said["code"], said["args"]["why"]) == ("labour_vet", "too_early")
