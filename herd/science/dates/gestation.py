"""When she will kid: priors by breed, litter effect, and the mixture over the days she may have settled on."""

from __future__ import annotations

from statistics import NormalDist

from ..base.record import equation, remembered
from ..base.validity import check
from ..parameters import values

P = values("gestation")
OWN_PRIOR = ("alpine", "toggenburg", "boer", "angora", "pygmy", "nigerian_dwarf", "mini_cross")
PRIOR_STANDARD = ("saanen", "sable", "nubian", "lamancha", "oberhasli", "grade")
HALVINGS = 40


@equation
def gestation_prior(breed: str, litter: float, own: tuple[float, float] | None = None) -> tuple[float, float]:
    """Mean and standard deviation of gestation length.

    Equation: breed mean - 0.6 x (litter - 1.85)

    Parameters
    ----------
    breed : breed code; one not listed counts as unknown
    litter : scalar [kids], 1 to 6
    own : (mean, sd) [d] of the farm's own does of that group at the usual litter, where it has enough

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
    mean_d, sd_d = own or (P[f"{group}_d"], P[f"{group}_sd_d"])
    return mean_d + P["litter_d"] * (litter - P["litter_mean"]), sd_d


Chances = tuple[tuple[int, float, float], ...]


@equation
def due_cdf(due_after_d: float, settled: Chances, mean_d: float, sd_d: float) -> float:
    """Chance that she has kidded by a day.

    Parameters
    ----------
    due_after_d : scalar [d], 0 to 400, from the day the others are counted from
    settled : (day, chance, added to the standard deviation [d]) of each day she may have settled on
    mean_d : scalar [d], gestation mean
    sd_d : scalar [d], gestation standard deviation

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : due_after_d outside its range

    References
    ----------
    amoah1996; judgement for the exposure
    """
    check(due_after_d=due_after_d)
    return sum(chance * NormalDist(mean_d, sd_d + wider_d).cdf(due_after_d - day) for day, chance, wider_d in settled)


@equation
@remembered(4096)
def due_quantile(chance: float, settled: Chances, mean_d: float, sd_d: float) -> float:
    """Day by which she has kidded with a given chance.

    Parameters
    ----------
    chance : scalar [ratio], 0.001 to 0.999
    settled : (day, chance, added to the standard deviation [d]) of each day she may have settled on
    mean_d : scalar [d], gestation mean
    sd_d : scalar [d], gestation standard deviation

    Returns
    -------
    scalar [d], from the day the others are counted from

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    amoah1996; judgement for the exposure
    """
    check(chance=chance)
    if len(settled) == 1:
        day, _, wider_d = settled[0]
        return day + NormalDist(mean_d, sd_d + wider_d).inv_cdf(chance)
    reach = 6 * (sd_d + max(wider_d for _, _, wider_d in settled))
    low, high = settled[0][0] + mean_d - reach, settled[-1][0] + mean_d + reach
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        if due_cdf(middle, settled, mean_d, sd_d) < chance:
            low = middle
        else:
            high = middle
    return (low + high) / 2
