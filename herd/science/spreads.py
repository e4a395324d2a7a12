"""What is not known, as spread: one standard deviation of each source of doubt, permille of the value."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from .parameters import values

P = values("spreads")
FAMILY: Mapping[str, str] = {"me": "energy", "tdn": "energy", "cp": "organic", "ndf": "organic", "ca": "mineral"}
STANDING_KEY = {"READ": "read", "DERIVED": "derived", "MEMORY": "memory", "ASSUMED": "memory", "": "memory"}


def spread_pm(source: str) -> int:
    """One standard deviation of a source of doubt.

    Parameters
    ----------
    source : a name of the table spreads

    Returns
    -------
    scalar [permille of the value; kids or points x 1000 where the table's unit says so]

    Raises
    ------
    KeyError : no such source
    """
    return round(P[source])


def feed_spread_pm(nutrient: str, standing: str = "", tested: bool = False) -> int:
    """Spread of a feed's figure: of a tested lot, or of the table by how the figure is known.

    Parameters
    ----------
    nutrient : me, tdn, cp, ndf, ca or any other mineral
    standing : of the figure in the feed library, "" when nobody said
    tested : the keeper's own lot was tested by a laboratory

    Returns
    -------
    scalar [permille]

    References
    ----------
    preston_guide; judgement
    """
    family = FAMILY.get(nutrient, "mineral")
    return spread_pm(f"tested_{family}" if tested else f"feed_{family}_{STANDING_KEY[standing]}")


def weight_spread_pm(how: str, size: str) -> int:
    """Spread of a body weight by how it was come by.

    Parameters
    ----------
    how : "scale", "tape" or "class"
    size : "standard" or "mini"

    Returns
    -------
    scalar [permille]

    References
    ----------
    nakanishi2017; judgement
    """
    return spread_pm(f"weight_tape_{size}" if how == "tape" else f"weight_{how}")


def litter_spread(size: str, counted: bool) -> float:
    """Spread of the number of kids.

    Parameters
    ----------
    size : "standard" or "mini"
    counted : scanned or otherwise counted

    Returns
    -------
    scalar [kids]

    References
    ----------
    amoah1996; judgement
    """
    return spread_pm("litter_scanned" if counted else f"litter_prior_{size}") / 1000


def litter_mass_spread_pm(litter: float, size: str, counted: bool) -> int:
    """Spread of the litter's birth weight: of the kids' number and of one kid's weight, the kids of a litter alike.

    Equation: sqrt((sd of kids / kids)^2 + 0.19^2)

    Parameters
    ----------
    litter : scalar [kids], 1 to 6
    size : "standard" or "mini"
    counted : scanned or otherwise counted

    Returns
    -------
    scalar [permille]

    References
    ----------
    amoah1996; judgement
    """
    return together_pm(round(1000 * litter_spread(size, counted) / litter), spread_pm("birth_weight"))


def pen_share_spread_pm(places: int | None, does: int) -> int:
    """Spread of one doe's share at a shared feeder.

    Parameters
    ----------
    places : scalar [places] at the feeder, None when nobody counted: crowded is assumed from three does
    does : scalar [does]

    Returns
    -------
    scalar [permille of her share]; nought for a doe alone

    References
    ----------
    judgement
    """
    if does <= 1:
        return 0
    enough = does <= 2 if places is None else places >= does
    return spread_pm("pen_share_enough" if enough else "pen_share_crowded")


def together_pm(*spreads: int) -> int:
    """Spread of a product of things that are wrong independently of each other.

    Equation: square root of the sum of squares

    Parameters
    ----------
    spreads : scalars [permille]

    Returns
    -------
    scalar [permille]
    """
    return round(float(np.linalg.norm(spreads)))
