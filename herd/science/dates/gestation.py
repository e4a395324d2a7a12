"""When she will kid: priors by breed, litter effect, and the mixture for a doe that ran with the buck."""

from __future__ import annotations

from statistics import NormalDist

import numpy as np

from ..base.record import equation, remembered
from ..base.validity import check
from ..parameters import values

P = values("gestation")
OWN_PRIOR = ("alpine", "toggenburg", "boer", "angora", "pygmy", "nigerian_dwarf", "mini_cross")
PRIOR_STANDARD = ("saanen", "sable", "nubian", "lamancha", "oberhasli", "grade")
HALVINGS = 40


@equation
def gestation_prior(breed: str, litter: float) -> tuple[float, float]:
    """Mean and standard deviation of gestation length.

    Equation: breed mean - 0.6 x (litter - 1.85)

    Parameters
    ----------
    breed : breed code; one not listed counts as unknown
    litter : scalar [kids], 1 to 6

    Returns
    -------
    (mean, sd) [d]

    Raises
    ------
    OutOfRange : litter outside its range

    Validity
    --------
    Hand-bred does; dwarf and mini-cross means are judgement. Parity, sex and season: no agreed effect, none used.

    References
    ----------
    amoah1996; mellado2000; greyling2000
    """
    check(litter=litter)
    group = breed if breed in OWN_PRIOR else "standard" if breed in PRIOR_STANDARD else "unknown"
    return P[f"{group}_d"] + P["litter_d"] * (litter - P["litter_mean"]), P[f"{group}_sd_d"]


@equation
@remembered(64)
def conception_weights(window_d: int) -> tuple[float, ...]:
    """Chance that she conceived on each day of an exposure, given that she did.

    First heat is uniform over one cycle from the buck's arrival; each heat conceives with chance 0.85.

    Parameters
    ----------
    window_d : scalar [d], 1 to 200; days with the buck, both ends counted

    Returns
    -------
    one chance per day [ratio], adding to 1

    Raises
    ------
    OutOfRange : window_d outside its range

    Validity
    --------
    Cycling does in season; a scan narrows it.

    References
    ----------
    judgement; merck_estrus for the cycle
    """
    check(window_d=window_d)
    missed = np.power(1 - P["conception"], np.arange(window_d) // P["cycle_d"])
    return tuple((missed / missed.sum()).tolist())


@equation
def due_cdf(due_after_d: float, window_d: int, mean_d: float, sd_d: float) -> float:
    """Chance that she has kidded by a day.

    Parameters
    ----------
    due_after_d : scalar [d], 0 to 400, from the first possible service
    window_d : scalar [d], 1 to 200
    mean_d : scalar [d], gestation mean
    sd_d : scalar [d], gestation standard deviation

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    amoah1996; judgement for the exposure
    """
    check(due_after_d=due_after_d)
    normal = NormalDist(mean_d, sd_d)
    return sum(w * normal.cdf(due_after_d - day) for day, w in enumerate(conception_weights(window_d)))


@equation
@remembered(4096)
def due_quantile(chance: float, window_d: int, mean_d: float, sd_d: float) -> float:
    """Day by which she has kidded with a given chance.

    Parameters
    ----------
    chance : scalar [ratio], 0.001 to 0.999
    window_d : scalar [d], 1 to 200
    mean_d : scalar [d], gestation mean
    sd_d : scalar [d], gestation standard deviation

    Returns
    -------
    scalar [d], from the first possible service

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    amoah1996; judgement for the exposure
    """
    check(chance=chance)
    if window_d == 1:
        return NormalDist(mean_d, sd_d).inv_cdf(chance)
    low, high = mean_d - 6 * sd_d, mean_d + window_d + 6 * sd_d
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if due_cdf(middle, window_d, mean_d, sd_d) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2
