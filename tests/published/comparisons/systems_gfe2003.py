"""German allowances for milking goats of 2003, kept beside ours for comparison.

References: gfe2003 in sources.toml, Table 1.
"""

from __future__ import annotations

from herd.science.base.arrays import Num
from herd.science.needs.maintenance import maintenance_gfe2003
from tests.published.comparisons.numbers import check, values

P = values("systems_gfe2003")


def lactation_energy_gfe2003(milk_kg: Num, fat_pct: Num) -> Num:
    """Metabolizable energy for milk by the German table.

    Equation: ME = milk x (2.6 + 0.6 fat) MJ

    Parameters
    ----------
    milk_kg : scalar or 1-D, n days [kg/d], 0 to 12
    fat_pct : scalar or 1-D, n days [%], 1.5 to 11

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Table rows at 3 and 4 % fat.

    References
    ----------
    gfe2003, Table 1
    """
    check(milk_kg=milk_kg, fat_pct=fat_pct)
    return 1000 * milk_kg * (P["gfe_base_mj"] + P["gfe_per_fat_mj"] * fat_pct)


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
