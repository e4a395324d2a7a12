"""Lead times and lengths of gestation drawn toward what a farm has seen: beside scipy, and at both ends."""

from __future__ import annotations

from math import exp, log, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import optimize, stats

from herd.outlook.years.kiddings import Kidding
from herd.outlook.years.leads import DAY_MS, HOUR_MS, SignFigures, figures, first_seen, sign_rows
from herd.outlook.years.lengths import fitted_length, group_of, length_assumed, length_rows
from herd.outlook.years.numbers import LEADS, N
from herd.outlook.years.refit import Assumed, bounded_lead, lead_assumed, minutes_of, refitted, share

# The reference note's own worked lognormals: mu = ln median, sigma = ln(P90/P10) / 2.563 (goat reproduction, 2.3).
WORKED = {"udder_full": (4.277, 0.761), "teats_strutted": (2.996, 0.818), "ligaments_gone": (2.773, 0.786)}
KID_AT = 100 * DAY_MS


@pytest.mark.parametrize("sign", WORKED)
def test_what_is_assumed_is_the_lognormal_of_the_table(sign: str) -> None:
    assumed = lead_assumed(sign)
    assert (assumed.mean, assumed.sd) == (
        pytest.approx(WORKED[sign][0], abs=1e-3),
        pytest.approx(WORKED[sign][1], abs=1e-3),
    )
    row = LEADS[sign]
    frozen = stats.lognorm(s=assumed.sd, scale=exp(assumed.mean))
    assert frozen.median() == pytest.approx(row["median_h"])
    assert frozen.ppf(0.9) / frozen.ppf(0.1) == pytest.approx(row["p90_h"] / row["p10_h"])


@pytest.mark.parametrize("sign", LEADS)
def test_nothing_seen_leaves_what_is_assumed(sign: str) -> None:
    [row] = sign_rows({sign: SignFigures((), 0, 0)})
    assert row["median_min"] == row["assumed_min"] == round(60 * LEADS[sign]["median_h"])
    assert (row["n"], row["own_min"], row["shows_pm"], row["enough"]) == (0, 0, LEADS[sign]["shows_pm"], False)


@pytest.mark.parametrize("n", [20_000])
def test_very_many_seen_leave_what_scipy_fits_to_them_alone(n: int) -> None:
    hours = np.random.default_rng(5).lognormal(log(30), 0.6, n)
    fitted = refitted(lead_assumed("ligaments_gone"), [log(hour) for hour in hours])
    s, _, scale = stats.lognorm.fit(hours, floc=0)
    assert exp(fitted.mean) == pytest.approx(scale, rel=1e-3)
    assert fitted.sd == pytest.approx(s, rel=2e-3)


@pytest.mark.parametrize("seed", range(8))
def test_between_it_is_the_posterior_whose_peak_scipy_finds(seed: int) -> None:
    """Of the conjugate prior: the mean that is likeliest, and the spread that is then expected."""
    dice = np.random.default_rng(seed)
    assumed, seen = Assumed(2.8, 0.8, 8, 16), dice.normal(3.2, 0.5, 3 + 4 * seed)
    fitted = refitted(assumed, list(seen))

    def unlikely(mean: float) -> float:
        return assumed.mean_n * (mean - assumed.mean) ** 2 + float(((seen - mean) ** 2).sum())

    found = optimize.minimize_scalar(unlikely, bracket=(2, 4))
    assert fitted.mean == pytest.approx(found.x, abs=1e-6)
    assert fitted.sd == pytest.approx(sqrt((16 * 0.8**2 + found.fun) / (16 + len(seen))), rel=1e-6)


@given(
    st.lists(st.floats(-3, 7), min_size=1, max_size=60),
    st.floats(0, 6),
    st.floats(0.3, 1.5),
    st.floats(1, 20),
    st.floats(4, 40),
)
def test_the_middle_lies_between_what_is_assumed_and_what_was_seen(
    seen: list[float], mean: float, sd: float, mean_n: float, spread_n: float
) -> None:
    fitted = refitted(Assumed(mean, sd, mean_n, spread_n), seen)
    own = sum(seen) / len(seen)
    assert min(mean, own) - 1e-9 <= fitted.mean <= max(mean, own) + 1e-9
    assert fitted.sd > 0
    assert fitted.mean == pytest.approx(mean + (own - mean) * len(seen) / (len(seen) + mean_n), abs=1e-9)


@given(st.lists(st.floats(-6, 8), max_size=40))
def test_no_farm_moves_a_lead_time_more_than_threefold(seen: list[float]) -> None:
    assumed = lead_assumed("mucus_amber")
    ratio = minutes_of(bounded_lead(assumed, refitted(assumed, seen)).mean) / (60 * LEADS["mucus_amber"]["median_h"])
    assert 1 / N["lead_times_most"] - 0.01 <= ratio <= N["lead_times_most"] + 0.01


def test_how_many_show_a_sign_goes_from_what_is_assumed_to_what_was_seen() -> None:
    assert share(850, 0, 0) == 850
    assert share(850, 0, 10) == 425
    assert share(850, 9_000, 10_000) == pytest.approx(900, abs=1)


GONE = frozenset({"ligaments_gone"})
NONE: frozenset[str] = frozenset()


@pytest.mark.parametrize(
    ("looks", "hours"),
    [
        ([(20, GONE, NONE)], 20),
        ([(30, NONE, GONE), (20, GONE, NONE), (8, GONE, NONE)], 25),
        ([(60, NONE, GONE), (20, GONE, NONE)], 20),
        ([(50, GONE, NONE), (40, NONE, GONE), (20, GONE, NONE)], 30),
        ([(50, GONE, NONE), (40, NONE, GONE)], None),
        ([(45 * 24, GONE, NONE)], None),
        # one look of many that missed it, and one call by mistake long before
        ([(22, NONE, GONE), (20, GONE, NONE), (18, GONE, NONE), (16, NONE, GONE), (14, GONE, NONE)], 21),
        ([(70, GONE, NONE), (60, NONE, GONE), (40, NONE, GONE), (21, NONE, GONE), (19, GONE, NONE)], 20),
        ([(-3, GONE, NONE)], None),
    ],
)
def test_when_a_sign_came_to_stay(looks: list[tuple[int, frozenset[str], frozenset[str]]], hours: int | None) -> None:
    told = [(KID_AT - before * HOUR_MS, seen, absent) for before, seen, absent in looks]
    since = first_seen(told, "ligaments_gone", KID_AT)
    assert since == (None if hours is None else KID_AT - hours * HOUR_MS)


def kidding(doe: str, length: int = 150, born: int = 2, first_at: int = KID_AT) -> Kidding:
    return Kidding(doe, "2026-04-01", born, born, first_at, "2025-11-01", length, -1, 0, 0)


def test_a_kidding_nobody_timed_teaches_nothing_of_signs() -> None:
    does = {"a": {"signs": [(KID_AT - 5 * HOUR_MS, ["ligaments_gone"], [], "", "", "2026-04-01")]}}
    assert figures(does, [kidding("a", first_at=0)])["ligaments_gone"] == SignFigures((), 0, 0)
    assert figures(does, [kidding("a")])["ligaments_gone"] == SignFigures((log(5),), 1, 1)
    assert figures(does, [kidding("a")])["pawing"] == SignFigures((), 0, 1)


def test_lengths_go_from_the_breeds_to_the_farms_and_stay_bounded() -> None:
    assumed = length_assumed("alpine")
    assert fitted_length("alpine", []).mean == assumed.mean == 151.4
    near = [float(x) for x in np.random.default_rng(3).normal(150.2, 2.4, 5_000)]
    many = fitted_length("alpine", near)
    assert (many.mean, many.sd) == (pytest.approx(np.mean(near), abs=0.01), pytest.approx(np.std(near), abs=0.02))
    assert fitted_length("alpine", [140.0] * 500).mean == pytest.approx(149.4)
    assert fitted_length("alpine", [151.0] * 500).sd == N["own_sd_least_x10"] / 10


def test_a_length_that_is_no_gestation_is_left_out_and_few_are_not_enough() -> None:
    from herd.outlook.years.lengths import lengths

    does = {"a": {"f": {"breed": "nubian"}}, "b": {"f": {"size": "mini"}}}
    assert (group_of(does["a"]), group_of(does["b"]), group_of({"f": {}})) == ("standard", "mini_cross", "unknown")
    found = lengths(does, [kidding("a"), kidding("a", 120), kidding("a", 0), kidding("b", 148)])
    assert {group: len(seen) for group, seen in found.items()} == {"standard": 1, "mini_cross": 1}
    assert [row["enough"] for row in length_rows(found)] == [False, False]
    assert length_rows({"standard": [150.0] * N["used_from_n"]})[0]["enough"]
