"""Her score at kidding: against the science on a steady balance, and what must rise, widen or stay silent."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.science.body.condition import condition_change, scorer_sd
from herd.science.parameters import values
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

TODAY = "2026-11-20"
DUE = {"early": "2026-12-14", "mid": "2026-12-20", "late": "2026-12-26", "printed": "2026-12-20"}
KG = 30.0
# 30 kg: 3.6 kg a point, 40 and 28 MJ a kilogram
DRIVERS = {"me_kj_per_point": 1440, "me_kj_per_point_lost": 1008}
PLAIN = {"need_high_pm": 0, "floor_share_pm": 1000}


def ahead(
    grams: int, *scores: tuple[str, int], days: int = 8, figures: dict[str, Any] | None = None, **rules: int
) -> dict[str, Any]:
    log = Log()
    log.record("doe", "fern", name="Fern", size="mini")
    log.pen("p", "fern")
    log.add("bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    log.ration("fern", "morning", "hay", ("2026-08-01", grams))
    for back in range(days - 1, -1, -1):
        log.fed("p", day(-back), "morning", ("fern", "hay", grams))
    for on, x100 in scores:
        log.score("fern", on, x100)
    made = outlook("fern", TODAY, {"as_is": branch(**(figures or {}))}, due=DUE)
    made["drivers"] = {**made["drivers"], **DRIVERS}
    made["season"]["me_kj"] = [10_000] * 180
    said = evaluate(fold(log.events), {"fern": made}, book(**{**PLAIN, **rules}), TODAY)
    return dict(said["does"]["fern"])


def day(shift_d: int) -> str:

    return shift(TODAY, shift_d)


@pytest.mark.parametrize("grams", [1100, 1250, 1389, 1450, 1600])
def test_a_steady_balance_is_what_the_science_says(grams: int) -> None:
    """Got 900 permille x 8 kJ a gram; the need is 10 MJ every day."""
    found = ahead(grams, (day(0), 300))["condition_ahead"]
    balance = grams * 900 // 1000 * 8 - 10_000
    change = 30 * float(condition_change(float(balance), KG))
    assert found["x100"] == pytest.approx(100 * (3.0 + change), abs=1)
    assert found["spread"]["scorer"] == pytest.approx(100 * scorer_sd(), abs=1)
    # a share of a change that was itself rounded down
    assert found["spread"]["conversion"] == pytest.approx(
        100 * values("condition")["conversion_ln_sd"] * abs(change), abs=2
    )


def test_more_feed_is_a_higher_score_and_the_band_holds_it() -> None:
    scores = [ahead(grams, (day(-5), 300))["condition_ahead"] for grams in range(1100, 1650, 50)]
    x100 = [found["x100"] for found in scores]
    assert x100 == sorted(x100)
    assert x100[0] < x100[-1]
    assert all(100 <= found["lo"] <= found["x100"] <= found["hi"] <= 500 for found in scores)


def test_a_wider_litter_demand_and_an_older_score_are_less_sure() -> None:
    plain = ahead(1389, (day(0), 300), floor_share_pm=460)["condition_ahead"]
    heavy = ahead(1389, (day(0), 300), floor_share_pm=460, figures={"preg_me_kj": 4000})["condition_ahead"]
    old = ahead(1389, (day(-40), 300), floor_share_pm=460)["condition_ahead"]
    assert heavy["spread"]["litter"] > plain["spread"]["litter"] > 0
    assert old["spread"]["balance"] > plain["spread"]["balance"]
    assert old["hi"] - old["lo"] > plain["hi"] - plain["lo"]


def test_a_doe_whose_recorded_feed_was_short_and_who_held_keeps_better_than_the_sums() -> None:
    scores = ((day(-40), 300), (day(-5), 300))
    recorded = ahead(1200, *scores, days=60)["condition_ahead"]
    unrecorded = ahead(1200, *scores, days=8)["condition_ahead"]
    assert recorded["own_kj_d"] > 0
    assert unrecorded["own_kj_d"] == 0
    assert recorded["x100"] > unrecorded["x100"]
    assert recorded["spread"]["balance"] < unrecorded["spread"]["balance"]


def test_a_doe_who_held_on_more_than_she_needed_teaches_nothing_and_one_who_fell_does() -> None:
    held = ahead(1500, (day(-40), 300), (day(-5), 300), days=60)["condition_ahead"]
    fell = ahead(1500, (day(-40), 300), (day(-5), 250), days=60)["condition_ahead"]
    assert held["own_kj_d"] == 0
    assert fell["own_kj_d"] < 0


@pytest.mark.parametrize(
    ("why", "scores", "more"),
    [
        ("no_score", (), {}),
        ("old_score", ((day(-46), 300),), {}),
        ("few_days", ((day(0), 300),), {"days": 2}),
        ("off_scale", ((day(0), 125),), {}),
    ],
)
def test_it_is_silent_and_says_why(why: str, scores: tuple[tuple[str, int], ...], more: dict[str, int]) -> None:
    found = ahead(1000, *scores, **more)
    assert found["condition_ahead"] is None
    assert found["condition_why"] == why


def test_an_outlook_without_the_figures_is_no_forecast() -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.add("bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    made = outlook("fern", TODAY, due=DUE)
    del made["drivers"]["me_kj_per_point_lost"], made["risk"]
    said = evaluate(fold(log.events), {"fern": made}, book(), TODAY)["does"]["fern"]
    assert (said["condition_ahead"], said["condition_why"], said["risk"]) == (None, "old_outlook", None)
