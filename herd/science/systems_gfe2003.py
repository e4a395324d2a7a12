"""German energy allowances for goats (GfE 2003), kept beside ours for comparison.

Validity: dairy does of 45 to 75 kg, milk of 3 to 4 % fat. Accuracy: not reported; the coefficients are fitted to the
printed table, which gives none. References: gfe2003 in sources.toml, Table 1.
"""

from __future__ import annotations

from .arrays import Num, power
from .parameters import values

NAME = "systems_gfe2003"


def me_dry_gfe2003(body_weight_kg: Num) -> Num:
    """Dry or up to the fourth month: 450 kJ per kg0.75.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg]

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]
    """
    return values(NAME)["maintenance"] * power(body_weight_kg, 0.75)


def me_month_5_gfe2003(body_weight_kg: Num) -> Num:
    """Fifth month of pregnancy, whatever the litter: 600 kJ per kg0.75.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg]

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]
    """
    return values(NAME)["month_5"] * power(body_weight_kg, 0.75)


def me_milking_gfe2003(body_weight_kg: Num, milk_kg: Num, fat_pct: Num) -> Num:
    """In milk: maintenance and (2600 + 600 fat %) kJ per kg milk.

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg]
    milk_kg : scalar or 1-D, n days [kg/d]
    fat_pct : scalar or 1-D, n days [%]

    Returns
    -------
    scalar or 1-D, n days [kJ ME/d]
    """
    per_kg = values(NAME)["milk_base"] + values(NAME)["milk_per_fat"] * fat_pct
    return me_dry_gfe2003(body_weight_kg) + milk_kg * per_kg
