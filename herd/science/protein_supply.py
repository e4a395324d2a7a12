"""What a feed's protein is worth to the doe: metabolizable protein from crude protein and its undegraded share."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from .errors import MissingInput
from .feed_library import Feed
from .parameters import values
from .protein import mp_per_cp
from .units import PER_CENT
from .validity import check

P = values("protein")
# The nitrogen of a salt is no protein until rumen bugs find energy beside it: a mineral has no figure here.
NO_PROTEIN_CLASSES = ("mineral",)


@dataclass(frozen=True)
class FeedProtein:
    """Metabolizable protein of a feed; assumed where its undegraded share was not known and 0.20 was taken."""

    mp_ug_g: int
    uip_pm: int
    assumed: bool


def feed_protein(cp_ug_g: int, uip_share: float | None = None) -> FeedProtein:
    """Metabolizable protein per gram of dry matter.

    Equation: CP x (0.64 + 0.16 x undegraded share); share 0.20 when it is not known

    Parameters
    ----------
    cp_ug_g : scalar [ug/g DM], 0 to 1000000
    uip_share : scalar [ratio of CP], 0 to 1; None for unknown

    Returns
    -------
    FeedProtein [ug/g DM]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Undegraded shares are single table values; they shift with intake and method (dehydrated alfalfa 37 against 60).

    References
    ----------
    nrc2000
    """
    check(cp_ug_g=cp_ug_g)
    share = P["uip_share"] if uip_share is None else uip_share
    return FeedProtein(round(cp_ug_g * mp_per_cp(share)), round(1000 * share), uip_share is None)


def library_protein(feed: Feed) -> FeedProtein | None:
    """Metabolizable protein of a feed of the library, None where its crude protein is unknown or it is a mineral.

    Parameters
    ----------
    feed : a feed of the library

    Returns
    -------
    FeedProtein [ug/g DM] or None

    References
    ----------
    nrc2000; preston_guide
    """
    if feed.cp_ug_g is None or feed.feed_class in NO_PROTEIN_CLASSES:
        return None
    printed_pct = feed.figures.get("rup_pct_cp")
    return feed_protein(feed.cp_ug_g, None if printed_pct is None else printed_pct / PER_CENT)


def diet_uip_share(parts: Iterable[tuple[float, int | None, int]]) -> float:
    """Undegraded share of the crude protein of a whole diet.

    Equation: sum of DM x CP x share over sum of DM x CP

    Parameters
    ----------
    parts : (dry matter [g], crude protein [ug/g DM] or None, undegraded share [permille]) of each feed

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    MissingInput : a feed's crude protein is unknown, or there is no protein at all

    References
    ----------
    nrc2000
    """
    protein = undegraded = 0.0
    for dm_g, cp_ug_g, uip_pm in parts:
        if cp_ug_g is None:
            raise MissingInput("cp_ug_g")
        protein += dm_g * cp_ug_g
        undegraded += dm_g * cp_ug_g * uip_pm / 1000
    if protein <= 0:
        raise MissingInput("cp_ug_g")
    return undegraded / protein
