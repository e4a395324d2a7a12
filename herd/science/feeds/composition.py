"""From the figures of a forage test to the units rations are worked in."""

from __future__ import annotations

from ..base.arrays import Num
from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("composition")


@equation
def me_from_tdn(tdn_pct: Num) -> Num:
    """Metabolizable energy from total digestible nutrients, by the convention of the feed library.

    Equation: ME = 0.15127 MJ x TDN % (ME = 0.82 DE)

    Parameters
    ----------
    tdn_pct : scalar or 1-D [% DM], 20 to 135

    Returns
    -------
    scalar or 1-D [kJ/kg DM]

    Raises
    ------
    OutOfRange : tdn_pct outside its range

    References
    ----------
    nrc1981
    """
    check(tdn_pct=tdn_pct)
    return 1000 * P["me_mj_per_tdn_pct"] * tdn_pct
