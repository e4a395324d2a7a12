"""The day-by-day shape of mineral laid down in the litter."""

from __future__ import annotations

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .pregnancy import conceptus_energy_afrc1993, conceptus_energy_gain_afrc1993

P = values("minerals")
PREGNANCY = values("pregnancy")


@equation
def deposition_share(gestation_day: Num, gestation_length_d: float = 150) -> Num:
    """Share of the term mineral content laid down per day, by the shape of the energy curve.

    Equation: g(t) = 0.0737 exp(-0.00643 t) E(t) / E(term)

    Parameters
    ----------
    gestation_day : scalar or 1-D, n days [d], 0 to 165
    gestation_length_d : scalar [d], 140 to 160

    Returns
    -------
    scalar or 1-D, n days [1/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Shape only; totals come from kid composition.

    References
    ----------
    afrc1993
    """
    check(gestation_length_d=gestation_length_d)
    term_d, own_clock = P["term_d"], PREGNANCY["curve_term_d"]
    day = gestation_day * (term_d / gestation_length_d)
    slope = conceptus_energy_gain_afrc1993(day, 1.0, own_clock)
    return slope / conceptus_energy_afrc1993(term_d, 1.0, own_clock) * (term_d / gestation_length_d)
