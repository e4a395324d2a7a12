"""Cold: what wind and a wet coat add, and when feed alone will not do."""

from __future__ import annotations

from .arrays import Num, maximum, minimum
from .parameters import values
from .validity import check

P = values("cold")
M = values("maintenance")


def felt_air(air_c: Num, wind_kmh: Num = 0.0) -> Num:
    """Air as the doe feels it, by the rough chill extension pages use.

    Equation: degrees F less miles an hour: air - 0.345 x wind

    Parameters
    ----------
    air_c : scalar or 1-D, n days [degC], -40 to 45
    wind_kmh : scalar or 1-D, n days [km/h], 0 to 80, where she stands

    Returns
    -------
    scalar or 1-D, n days [degC]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    psu_cold, worked example

    Examples
    --------
    20 F and 15 mph feel like 5 F: -6.67 degC and 24.1 km/h feel like -15.0 degC.
    """
    check(air_c=air_c, wind_kmh=wind_kmh)
    return air_c - P["wind_c_per_kmh"] * wind_kmh


def critical_air(wet: bool = False) -> float:
    """Air below which she burns feed to stay warm.

    Equation: 0 degC dry coat, 14.4 degC wet

    Parameters
    ----------
    wet : coat wet to the skin

    Returns
    -------
    scalar [degC]

    References
    ----------
    osu_wayne2019
    """
    return P["wet_from_c"] if wet else M["cold_from_c"]


def uncapped_cold_share(air_c: Num, wind_kmh: Num = 0.0, wet: bool = False) -> Num:
    """Extra maintenance the slope alone gives, before the ceiling on what a body can burn.

    Equation: 0.018 per degree of felt air below critical

    Parameters
    ----------
    air_c : scalar or 1-D, n days [degC], -40 to 45
    wind_kmh : scalar or 1-D, n days [km/h], 0 to 80
    wet : coat wet to the skin

    Returns
    -------
    scalar or 1-D, n days [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    psu_cold; osu_wayne2019
    """
    return maximum(0.0, critical_air(wet) - felt_air(air_c, wind_kmh)) * M["cold_share_per_c"]


def coat_cold_share(air_c: Num, wind_kmh: Num = 0.0, wet: bool = False) -> Num:
    """Extra maintenance in the cold, as a share.

    Equation: 0.018 per degree of felt air below critical, at most 0.30

    Parameters
    ----------
    air_c : scalar or 1-D, n days [degC], -40 to 45
    wind_kmh : scalar or 1-D, n days [km/h], 0 to 80
    wet : coat wet to the skin

    Returns
    -------
    scalar or 1-D, n days [ratio], 0 to 0.30

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    The cap is the most a ruminant's heat rises by feed; beyond it she loses condition or heat: needs_shelter.

    References
    ----------
    psu_cold; osu_wayne2019; osu_cold2023
    """
    return minimum(M["cold_cap"], uncapped_cold_share(air_c, wind_kmh, wet))


def needs_shelter(air_c: float, wind_kmh: float = 0.0, wet: bool = False) -> bool:
    """Whether the cold is more than feed can answer: a dry bed out of the wind comes before another flake.

    Parameters
    ----------
    air_c : scalar [degC], -40 to 45
    wind_kmh : scalar [km/h], 0 to 80
    wet : coat wet to the skin

    Returns
    -------
    bool

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    osu_cold2023; judgement
    """
    return bool(uncapped_cold_share(air_c, wind_kmh, wet) > M["cold_cap"])
