"""A doe's own lactation curve: the expected one, scaled (and with enough records shaped) by what was weighed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from ..base.arrays import Days, Num, exp, power
from ..base.errors import MissingInput
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .lactation import milk_curve_wood

P = values("milk_fit")


@dataclass(frozen=True)
class Weighing:
    """Milk weighed over one whole day."""

    days_in_milk: float
    milk_kg: float


@dataclass(frozen=True)
class MilkFit:
    """Her curve is scale x expected x (t / t0)^rise x exp(-fall (t - t0)); sd is that of the scale, both ratios.

    Without weighings the scale is 1 and sd the spread of does about their breed.
    """

    scale: float
    sd: float
    weighings: int
    rise: float = 0.0
    fall: float = 0.0
    about_d: float = 1.0


@equation
def usable(records: Sequence[Weighing]) -> tuple[Weighing, ...]:
    """Weighings after colostrum, in order.

    Parameters
    ----------
    records : weighings

    Returns
    -------
    Weighings from day 4

    Raises
    ------
    OutOfRange : a weighing outside what a doe gives or milks

    References
    ----------
    judgement
    """
    for record in records:
        check(days_in_milk=record.days_in_milk, milk_kg=record.milk_kg)
    kept = [record for record in records if record.days_in_milk >= P["first_d"]]
    return tuple(sorted(kept, key=lambda record: record.days_in_milk))


@equation
def weights(days_in_milk: Days, on_day: float) -> Days:
    """Precision of weighings as seen on a day: halved for each month of age.

    Parameters
    ----------
    days_in_milk : 1-D, n weighings [d]
    on_day : scalar [d in milk]

    Returns
    -------
    1-D, n weighings [1]

    References
    ----------
    judgement
    """
    age_d = np.abs(on_day - days_in_milk)
    aged: Days = np.asarray(0.5 ** (age_d / P["half_life_d"]) / P["day_sd"] ** 2, dtype=np.float64)
    return aged


@equation
def fit_scale(records: Sequence[Weighing], total_305_kg: float, first: bool, on_day: float) -> MilkFit:
    """How much of the expected curve she gives: the weighings' mean ratio, drawn toward 1 by what is usual.

    Equation: scale = (1/0.30^2 + sum w r) / (1/0.30^2 + sum w), r = weighed / expected, w = 0.5^(age/30) / 0.12^2

    Parameters
    ----------
    records : weighings
    total_305_kg : scalar [kg], 50 to 2500, of the expected curve
    first : first lactation
    on_day : scalar [d in milk], 0 to 800, day it is asked for

    Returns
    -------
    MilkFit

    Raises
    ------
    OutOfRange : an argument or a weighing outside its range

    References
    ----------
    judgement
    """
    check(days_in_milk=on_day)
    kept = usable(records)
    day = np.array([record.days_in_milk for record in kept], dtype=np.float64)
    milk = np.array([record.milk_kg for record in kept], dtype=np.float64)
    prior = 1 / P["prior_scale_sd"] ** 2
    if not kept:
        return MilkFit(1.0, P["prior_scale_sd"], 0)
    expected = np.asarray(milk_curve_wood(day, total_305_kg, first))
    w = weights(day, on_day)
    information = prior + float(w.sum())
    scale = (prior + float((w * milk / expected).sum())) / information
    return MilkFit(scale, float(np.hypot(1 / np.sqrt(information), P["floor_sd"])), len(kept))


@equation
def fit_shape(records: Sequence[Weighing], total_305_kg: float, first: bool, on_day: float) -> MilkFit:
    """Her own rise and fall as well, from at least 8 weighings over 60 days: penalised least squares on the logarithm.

    Equation: ln(y / expected) = ln scale + rise ln(t / t0) - fall (t - t0), t0 the mean day; rise, fall drawn to 0

    Parameters
    ----------
    records : weighings, none of them nought
    total_305_kg : scalar [kg], 50 to 2500, of the expected curve
    first : first lactation
    on_day : scalar [d in milk], 0 to 800

    Returns
    -------
    MilkFit

    Raises
    ------
    MissingInput : too few weighings, or over too short a time
    OutOfRange : an argument or a weighing outside its range

    References
    ----------
    judgement
    """
    check(days_in_milk=on_day)
    kept = tuple(record for record in usable(records) if record.milk_kg > 0)
    if not _enough(kept):
        raise MissingInput("weighings")
    day = np.array([record.days_in_milk for record in kept])
    expected = np.asarray(milk_curve_wood(day, total_305_kg, first))
    ratio = np.log(np.array([record.milk_kg for record in kept]) / expected)
    about_d = float(day.mean())
    design = np.column_stack([np.ones_like(day), np.log(day / about_d), -(day - about_d)])
    found, covariance = _ridge(design, ratio, weights(day, on_day))
    sd = float(np.hypot(np.sqrt(covariance[0, 0]), P["floor_sd"]))
    return MilkFit(float(np.exp(found[0])), sd, len(kept), float(found[1]), float(found[2]), about_d)


def _enough(kept: Sequence[Weighing]) -> bool:
    return len(kept) >= P["shape_records"] and kept[-1].days_in_milk - kept[0].days_in_milk >= P["shape_span_d"]


def _ridge(design: Days, target: Days, w: Days) -> tuple[Days, Days]:
    """Weighted least squares drawn toward nought by the priors; the covariance is the inverse of what is minimised."""
    prior = np.diag([P[name] ** -2 for name in ("prior_scale_sd", "prior_b_sd", "prior_c_sd")])
    normal = design.T @ (w[:, None] * design) + prior
    found = np.asarray(np.linalg.solve(normal, design.T @ (w * target)), dtype=np.float64)
    return found, np.asarray(np.linalg.inv(normal), dtype=np.float64)


@equation
def fitted_milk(fit: MilkFit, days_in_milk: Num, total_305_kg: float, first: bool) -> Num:
    """Milk by her own curve.

    Parameters
    ----------
    fit : her scale, or scale and shape
    days_in_milk : scalar or 1-D, n days [d], 0 to 800
    total_305_kg : scalar [kg], 50 to 2500, the same as in the fit
    first : first lactation

    Returns
    -------
    scalar or 1-D, n days [kg/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    judgement
    """
    bend = power(days_in_milk / fit.about_d, fit.rise) * exp(-fit.fall * (days_in_milk - fit.about_d))
    return fit.scale * bend * milk_curve_wood(days_in_milk, total_305_kg, first)


@equation
def her_fit(records: Sequence[Weighing], total_305_kg: float, first: bool, on_day: float) -> MilkFit:
    """The best her weighings allow: shape with enough of them, scale with some, the expected curve with none.

    Parameters
    ----------
    records : weighings of this lactation
    total_305_kg : scalar [kg], 50 to 2500, of the expected curve
    first : first lactation
    on_day : scalar [d in milk], 0 to 800

    Returns
    -------
    MilkFit

    Raises
    ------
    OutOfRange : an argument or a weighing outside its range

    References
    ----------
    judgement
    """
    try:
        return fit_shape(records, total_305_kg, first, on_day)
    except MissingInput:
        return fit_scale(records, total_305_kg, first, on_day)
