"""What cold adds to maintenance, as a share: the slope and the cap the herd rules stand on."""

from __future__ import annotations

from herd.science.base.arrays import Num, maximum, minimum
from tests.published.comparisons.numbers import check, values

P = values("cold")


def cold_share(air_c: Num) -> Num:
    """Extra maintenance of a dry-coated doe out of the wind, as a share.

    Equation: 0.018 per degree below 0 degC, at most 0.30

    Parameters
    ----------
    air_c : scalar or 1-D, n days [degC], -40 to 45

    Returns
    -------
    scalar or 1-D, n days [ratio]

    Raises
    ------
    OutOfRange : air_c outside its range

    Validity
    --------
    Dry coat; wet and wind together need far more and are not covered.

    References
    ----------
    osu_wayne2019; psu_cold; osu_cold2023
    """
    check(air_c=air_c)
    return minimum(P["cold_cap"], maximum(0.0, P["cold_from_c"] - air_c) * P["cold_share_per_c"])
