"""Signs of kidding long before her time are the vet's; near it they are the watch's, which rests beside her."""

from __future__ import annotations

import pytest

from tests.outlook.test_labour import FAR, NEAR, near, seen
from tests.outlook.test_off_feed import doe_at
from tests.support.flat_doe import result


@pytest.mark.parametrize("sign", ["ligaments_gone", "teats_strutted", "mucus_amber", "pawing"])
def test_signs_more_than_ten_days_early_are_for_the_vet_today(sign: str) -> None:
    log, over = near(FAR)
    looked = seen(log, sign)
    said = result(log, **over)["prompt"]
    assert (said["code"], said["args"]["signs"], said["args"]["at_ms"]) == ("kidding_early", [sign], looked)


def code(said: dict[str, object] | None) -> object:
    return said["code"] if said else ""


def test_near_her_time_they_are_not() -> None:
    log, over = near(NEAR)
    seen(log, "ligaments_gone", "teats_strutted")
    assert code(result(log, **over)["prompt"]) != "kidding_early"


def test_a_sign_that_is_gone_at_the_next_look_is_not_said() -> None:
    log, over = near(FAR)
    seen(log, "pawing", slot="midday")
    seen(log, absent=("pawing",))
    assert code(result(log, **over)["prompt"]) != "kidding_early"


@pytest.mark.parametrize("signs", [("udder_full",), ("ligaments_soft",), ("vulva_slack", "mucus_thin")])
def test_what_is_seen_for_weeks_is_not(signs: tuple[str, ...]) -> None:
    log, over = near(FAR)
    seen(log, *signs)
    assert code(result(log, **over)["prompt"]) != "kidding_early"


@pytest.mark.parametrize("stage", ["open", "fresh", "buck"])
def test_nobody_who_carries_nothing_hears_it(stage: str) -> None:
    log, over = doe_at(stage)
    seen(log, "pawing", "ligaments_gone")
    assert code(result(log, **over)["prompt"]) != "kidding_early"
