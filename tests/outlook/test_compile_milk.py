"""Her own weighings in the compiled curve, against scipy's least squares on the same data."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.optimize import least_squares

from herd.outlook.compile import BEFORE_D, DAYS, compile_doe
from herd.science.base.arrays import Days
from herd.science.body.weight import breed_milk
from herd.science.needs.lactation import litter_milk_share, milk_curve_wood
from tests.support.compiled import STANDARD, TODAY, ago, folded, fresh, weighed

KIDDED_D = 150
NOW = BEFORE_D
# herd/science/parameters/milk_fit.toml, all judgement
PRIOR_SD, DAY_SD, HALF_LIFE_D, RISE_SD, FALL_SD = 0.30, 0.12, 30.0, 0.06, 0.0012


def compiled(milk_g: dict[int, int]) -> list[int]:
    """Expected milk from 14 days back; weighings by days ago."""
    milks = [[ago(day), g, "morning", 0, "m"] for day, g in sorted(milk_g.items(), reverse=True)]
    state: dict[str, Any] = {"kidded": fresh(KIDDED_D), "kiddings": 3, "milks": milks, "weights": weighed(60)}
    return compile_doe(folded(STANDARD, **state), {}, TODAY, "doe")["branches"]["as_is"]["milk_g"]


def expected(day: Days) -> Days:
    total = breed_milk("alpine", "standard")[0] * litter_milk_share(2)
    return np.asarray(milk_curve_wood(day, total, False))


def weights(day: Days) -> Days:
    age_d = KIDDED_D + 1 - day
    return np.asarray(np.sqrt(0.5 ** (age_d / HALF_LIFE_D)) / DAY_SD)


def test_a_few_weighings_scale_the_curve_as_least_squares_does() -> None:
    found = compiled({20: 2900, 12: 3100, 5: 2600})
    day = np.array([KIDDED_D + 1.0 - ago_d for ago_d in (20, 12, 5)])
    ratio = np.array([2.9, 3.1, 2.6]) / expected(day)
    scale = least_squares(lambda x: np.append(weights(day) * (ratio - x[0]), (x[0] - 1) / PRIOR_SD), [1.0]).x[0]
    ahead = np.arange(DAYS) - NOW + KIDDED_D + 1.0
    assert found == pytest.approx(1000 * scale * expected(ahead), abs=2)


def test_many_weighings_bend_the_curve_as_least_squares_does() -> None:
    rng = np.random.default_rng(7)
    ago_d = np.arange(96, 2, -8)
    day = KIDDED_D + 1.0 - ago_d
    milk = np.round(1000 * 1.1 * expected(day) * np.exp(-0.0015 * (day - day.mean())) * rng.normal(1, 0.05, day.size))
    found = compiled({int(d): int(g) for d, g in zip(ago_d, milk, strict=True)})
    log = np.log(milk / 1000 / expected(day))
    about = day.mean()

    def miss(x: Days) -> Days:
        fit = x[0] + x[1] * np.log(day / about) - x[2] * (day - about)
        return np.concatenate([weights(day) * (log - fit), x / np.array([PRIOR_SD, RISE_SD, FALL_SD])])

    a, rise, fall = least_squares(miss, np.zeros(3), x_scale=[1, 0.1, 0.001], xtol=1e-12).x
    ahead = np.arange(DAYS) - NOW + KIDDED_D + 1.0
    bend = np.exp(a + rise * np.log(ahead / about) - fall * (ahead - about))
    assert found == pytest.approx(1000 * bend * expected(ahead), abs=2)


def test_colostrum_is_not_weighed_milk_and_no_weighing_is_the_breeds_curve() -> None:
    plain = compiled({})
    assert compiled({KIDDED_D: 9000}) == plain
    assert plain == pytest.approx(1000 * expected(np.arange(DAYS) - NOW + KIDDED_D + 1.0), abs=2)


def test_how_much_she_gives_goes_along_to_her_next_lactation_and_its_shape_does_not() -> None:
    low, high = (compile_next(dict.fromkeys(range(5, 100, 8), g)) for g in (1500, 3000))
    ratio = np.array(high) / np.array(low)
    assert ratio.min() > 1.3
    assert ratio == pytest.approx(ratio[0], rel=0.01)


def compile_next(milk_g: dict[int, int]) -> list[int]:
    milks = [[ago(day), g, "morning", 0, "m"] for day, g in sorted(milk_g.items(), reverse=True)]
    served = {"from": ago(60), "to": ago(60), "how": "hand", "ev": "bred"}
    state: dict[str, Any] = {"kidded": fresh(KIDDED_D), "kiddings": 3, "milks": milks, "bred": served}
    return compile_doe(folded(STANDARD, **state), {}, TODAY, "doe")["branches"]["kidded2"]["milk_g"]
