"""Body condition: what a unit weighs and costs, and the band that suits each stage."""

from __future__ import annotations

from ..base.arrays import Num, where
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("condition")
STAGES = ("open", "carrying", "close_up", "fresh", "milk", "milk_carrying")


@equation
def unit_weight(body_weight_kg: float) -> float:
    """Body weight in one unit of condition.

    Equation: 0.12 x maternal weight

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar [kg/unit]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    From ewes, 0.10 to 0.19; no goat figure exists.

    References
    ----------
    ewe_bcs_rule
    """
    check(body_weight_kg=body_weight_kg)
    return P["kg_share_per_unit"] * body_weight_kg


@equation
def regain_energy(body_weight_kg: float) -> float:
    """Metabolizable energy to put one unit of condition on.

    Equation: 40 MJ x unit weight

    Parameters
    ----------
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar [kJ/unit]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    Right within a factor of two.

    References
    ----------
    judgement; sahlu2004
    """
    return 1000 * P["gain_mj_kg"] * unit_weight(body_weight_kg)


@equation
def condition_change(energy_balance_kj: Num, body_weight_kg: float) -> Num:
    """Change of condition that goes with an energy surplus or deficit.

    Equation: surplus / 40 MJ/kg, deficit / 28 MJ/kg, over 0.12 x weight

    Parameters
    ----------
    energy_balance_kj : scalar or 1-D, n days [kJ/d], -60000 to 60000
    body_weight_kg : scalar [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [units/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Right within a factor of two.

    References
    ----------
    judgement
    """
    check(energy_balance_kj=energy_balance_kj)
    per_kg = where(energy_balance_kj >= 0, P["gain_mj_kg"], P["loss_mj_kg"])
    return energy_balance_kj / 1000 / per_kg / unit_weight(body_weight_kg)


@equation
def band(stage: str) -> tuple[float, float]:
    """Lowest and highest score that suit a stage.

    Parameters
    ----------
    stage : one of STAGES

    Returns
    -------
    (low, high) [points]

    References
    ----------
    goat_extension_bcs; goat_extension_repro; judgement
    """
    return P[f"{stage}_lo"], P[f"{stage}_hi"]


@equation
def scorer_sd() -> float:
    """Standard deviation of one keeper's single score.

    Returns
    -------
    scalar [points]

    References
    ----------
    merkel2011; judgement
    """
    return P["scorer_sd"]
