"""Near kidding: when to look again. Never that she will not kid; only what was seen, and when to come back."""

from __future__ import annotations

import pytest

from tests.outlook.test_labour import FAR, near, seen
from tests.outlook.test_off_feed import doe_at
from tests.support.flat_doe import result

HOUR_MS = 3_600_000


@pytest.mark.parametrize(
    ("signs", "hours"),
    [(("ligaments_gone", "teats_strutted"), 2), (("teats_strutted",), 2), (("ligaments_gone", "pawing"), 1)],
)
def test_signs_are_answered_with_the_watch(signs: tuple[str, ...], hours: int) -> None:
    log, over = near()
    looked = seen(log, *signs)
    said = result(log, **over)["prompt"]
    assert (said["code"], sorted(said["args"]["signs"])) == ("kidding_near", sorted(signs))
    assert (said["args"]["at_ms"], said["args"]["recheck_ms"]) == (looked, looked + hours * HOUR_MS)


def test_a_sign_that_is_gone_at_the_next_look_no_longer_counts() -> None:
    log, over = near()
    seen(log, "pawing", "ligaments_gone", slot="midday")
    looked = seen(log, absent=("pawing",))
    assert result(log, **over)["prompt"]["args"]["recheck_ms"] == looked + 2 * HOUR_MS


def test_no_signs_says_when_that_was_and_when_to_come_back() -> None:
    log, over = near()
    looked = seen(log, absent=("ligaments_gone", "pawing"))
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["at_ms"]) == ("kidding_quiet", looked)
    assert looked < said["args"]["recheck_ms"] <= looked + 6 * HOUR_MS


@pytest.mark.parametrize("stage", ["early", "late", "open", "fresh", "buck"])
def test_away_from_her_time_a_look_without_signs_says_nothing(stage: str) -> None:
    log, over = doe_at(stage)
    seen(log, absent=("pawing",))
    prompt = result(log, **over)["prompt"]
    assert prompt is None or not prompt["code"].startswith("kidding")


def test_weeks_before_her_time_the_pen_is_made_ready_and_the_vet_rung() -> None:
    log, over = near(FAR)
    seen(log, "ligaments_gone")
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["early"]) == ("kidding_near", True)


def test_a_full_udder_and_soft_ligaments_are_weeks_of_waiting() -> None:
    log, over = near()
    seen(log, "udder_full", "ligaments_soft")
    assert result(log, **over)["prompt"]["code"] == "kidding_quiet"


def test_a_refused_meal_goes_before_the_watch() -> None:
    log, over = near()
    seen(log, "ligaments_gone")
    log.intake("fern", log.events[-1]["on"], "evening", "refused")
    assert result(log, **over)["prompt"]["code"] == "off_feed_vet"
