"""Her own lactation curve: between the usual one and her weighings, as scipy finds it from the same sums."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.needs.lactation import milk_curve_wood
from herd.science.needs.milk_fit import MilkFit, Weighing, fit_scale, fit_shape, fitted_milk, her_fit, weights
from herd.science.parameters import values

P = values("milk_fit")
TOTAL = 800.0


def weighed(days: list[float], scale: float = 1.0, rise: float = 0.0, fall: float = 0.0) -> list[Weighing]:
    about = float(np.mean(days))
    milk = scale * np.asarray(fitted_milk(MilkFit(1.0, 0, 0, rise, fall, about), np.array(days), TOTAL, False))
    return [Weighing(day, float(kg)) for day, kg in zip(days, milk, strict=True)]


def noisy(days: list[float], scale: float, seed: int) -> list[Weighing]:
    dice = np.random.default_rng(seed)
    return [Weighing(w.days_in_milk, w.milk_kg * float(dice.normal(1, 0.1))) for w in weighed(days, scale)]


def test_unweighed_milk_is_the_expected_curve() -> None:
    fit = her_fit([], TOTAL, False, 60)
    day = np.arange(0.0, 300.0)
    assert (fit.scale, fit.weighings) == (1.0, 0)
    assert fit.sd == P["prior_scale_sd"]
    assert np.asarray(fitted_milk(fit, day, TOTAL, False)) == pytest.approx(
        np.asarray(milk_curve_wood(day, TOTAL, False))
    )


@pytest.mark.parametrize("seed", range(5))
def test_scale_is_the_minimum_scipy_finds(seed: int) -> None:
    records, on_day = noisy([20, 50, 80, 110, 140], 1.3, seed), 150.0
    day = np.array([r.days_in_milk for r in records])
    ratio = np.array([r.milk_kg for r in records]) / np.asarray(milk_curve_wood(day, TOTAL, False))
    w = weights(day, on_day)

    def loss(scale: float) -> float:
        return float((w * (ratio - scale) ** 2).sum() + (scale - 1) ** 2 / P["prior_scale_sd"] ** 2)

    best = optimize.minimize_scalar(loss, bounds=(0, 4), method="bounded", options={"xatol": 1e-10})
    assert fit_scale(records, TOTAL, False, on_day).scale == pytest.approx(best.x, abs=1e-7)


@pytest.mark.parametrize("seed", range(5))
def test_shape_is_the_minimum_scipy_finds(seed: int) -> None:
    records, on_day = noisy(list(range(10, 190, 12)), 1.2, seed), 190.0
    day = np.array([r.days_in_milk for r in records])
    logs = np.log(np.array([r.milk_kg for r in records]) / np.asarray(milk_curve_wood(day, TOTAL, False)))
    root, about = np.sqrt(weights(day, on_day)), day.mean()

    def residuals(theta: np.ndarray) -> np.ndarray:
        curve = theta[0] + theta[1] * np.log(day / about) - theta[2] * (day - about)
        drawn = theta / np.array([P["prior_scale_sd"], P["prior_b_sd"], P["prior_c_sd"]])
        return np.concatenate([root * (logs - curve), drawn])

    best = optimize.least_squares(
        residuals, [0.0, 0.0, 0.0], x_scale=[1, 0.1, 1e-3], xtol=1e-14, ftol=1e-14, gtol=1e-14
    )
    fit = fit_shape(records, TOTAL, False, on_day)
    assert [np.log(fit.scale), fit.rise, fit.fall] == pytest.approx(best.x.tolist(), abs=1e-5)


def test_many_clean_weighings_give_her_curve_as_curve_fit_does() -> None:
    """A doe flatter than usual: the Wood curve scipy fits freely and ours agree on her last months within 3 %."""
    days = list(np.linspace(8, 200, 60))
    records = weighed(days, 1.25, 0.05, -0.0008)

    def wood(t: np.ndarray, a: float, b: float, c: float) -> np.ndarray:
        return a * t**b * np.exp(-c * t)

    free, _ = optimize.curve_fit(wood, days, [r.milk_kg for r in records], p0=[1.5, 0.2, 0.004])
    fit = fit_shape(records, TOTAL, False, 200)
    day = np.arange(90.0, 200.0)
    assert np.asarray(fitted_milk(fit, day, TOTAL, False)) == pytest.approx(wood(day, *free), rel=0.03)


def test_one_weighing_pulls_half_way_many_pull_all_the_way() -> None:
    few = fit_scale(weighed([60], 1.5), TOTAL, False, 60)
    many = fit_scale(weighed(list(range(40, 61)), 1.5), TOTAL, False, 60)
    assert 1.25 < few.scale < many.scale < 1.5
    assert many.scale == pytest.approx(1.5, abs=0.02)
    assert P["prior_scale_sd"] > few.sd > many.sd > P["floor_sd"]


def test_an_old_weighing_counts_less() -> None:
    records = weighed([60], 1.5)
    scales = [fit_scale(records, TOTAL, False, day).scale for day in (60, 120, 240)]
    assert scales == sorted(scales, reverse=True)
    assert scales[-1] > 1


def test_the_fit_is_between_what_is_usual_and_what_was_weighed() -> None:
    for scale in (0.4, 0.8, 1.0, 1.6):
        found = fit_scale(weighed([30, 50], scale), TOTAL, False, 55).scale
        assert min(1, scale) - 1e-9 <= found <= max(1, scale) + 1e-9


def test_scaling_the_expected_curve_leaves_many_weighings_alone() -> None:
    records = [Weighing(day, kg) for day, kg in zip(range(30, 60), [2.0] * 30, strict=True)]
    milk = [float(fitted_milk(fit_scale(records, t, False, 60), 60, t, False)) for t in (600, 900)]
    assert milk[0] == pytest.approx(milk[1], rel=0.03)


def test_colostrum_is_no_weighing() -> None:
    assert fit_scale([Weighing(1, 9.0), Weighing(3.5, 9.0)], TOTAL, False, 10).weighings == 0


@pytest.mark.parametrize("days", [[10, 60, 90], list(range(10, 50, 4))])
def test_too_few_or_too_close_weighings_have_no_shape(days: list[float]) -> None:
    with pytest.raises(MissingInput):
        fit_shape(weighed(days), TOTAL, False, 90)
    assert her_fit(weighed(days, 1.2), TOTAL, False, 90).rise == 0.0


def test_a_weighing_no_doe_gives_is_refused() -> None:
    with pytest.raises(OutOfRange, match="milk_kg"):
        fit_scale([Weighing(30, 13.0)], TOTAL, False, 30)
    with pytest.raises(OutOfRange, match="days_in_milk"):
        fit_scale([], TOTAL, False, 900)
