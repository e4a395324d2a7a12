"""German energy allowances for goats (GfE 2003), kept beside ours for comparison.

Validity: dairy does of 45 to 75 kg, milk of 3 to 4 % fat. Accuracy: not reported; the coefficients are fitted to the
printed table, which gives none. References: gfe2003 in sources.toml, Table 1.
"""

from __future__ import annotations

from .arrays import Num
from .lactation import lactation_energy_gfe2003
from .maintenance import maintenance_gfe2003, metabolic_weight
from .parameters import values


def me_month_5_gfe2003(body_weight_kg: Num) -> Num:
    """Fifth month of pregnancy, whatever the litter: 600 kJ per kg0.75.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range
    """
    return values("systems_gfe2003")["month_5"] * metabolic_weight(body_weight_kg)


def me_milking_gfe2003(body_weight_kg: Num, milk_kg: Num, fat_pct: Num) -> Num:
    """In milk: maintenance and (2600 + 600 fat %) kJ per kg milk.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    milk_kg : scalar or 1-D, n days [kg/d], 0 to 12
    fat_pct : scalar or 1-D, n days [%], 1.5 to 11

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]

    Raises
    ------
    OutOfRange : an argument outside its range
    """
    return maintenance_gfe2003(body_weight_kg) + lactation_energy_gfe2003(milk_kg, fat_pct)
