"""A tray of sprouts as a feed of the herd's book: from the grain soaked, the days, and a scale if there is one."""

from __future__ import annotations

from dataclasses import dataclass

from ..base.errors import MissingInput
from ..base.record import equation
from ..base.validity import check
from ..intake.limits import dry_grain
from .composition import me_from_tdn
from .library import Feed
from .sprouts import Grain, dm_loss, sprout

NEEDED = ("dm_pct", "tdn_pct_dm", "cp_pct_dm", "ndf_pct_dm", "adf_pct_dm", "p_pct_dm")
UG_G_PER_PCT = 10_000


@dataclass(frozen=True)
class SproutFeed:
    """A tray in the units of the book; None is unknown. Grams are of the whole tray."""

    fresh_g: int
    dm_pm: int
    me_kj_kg: int
    cp_ug_g: int
    ndf_pm: int
    ca_ug_g: int | None
    p_ug_g: int
    dry_grain_g: int
    weighed: bool


def grain_of(feed: Feed) -> Grain:
    """A library grain as something to soak.

    Parameters
    ----------
    feed : a grain of the library

    Returns
    -------
    Grain

    Raises
    ------
    MissingInput : a figure the mass balance needs is blank
    """
    for column in NEEDED:
        if column not in feed.figures:
            raise MissingInput(column)
    dm, tdn, cp, ndf, adf, p = (feed.figures[column] for column in NEEDED)
    return Grain(dm_pct=dm, cp_pct=cp, tdn_pct=tdn, ndf_pct=ndf, adf_pct=adf, p_pct=p)


@equation
def sprout_feed(feed: Feed, grain_kg: float, day: int, weighed_kg: float | None = None) -> SproutFeed:
    """A tray of sprouted grain, ready for a feed entry.

    Equation: sprouts.sprout; calcium is neither made nor lost, so its share rises as dry matter is burnt off

    Parameters
    ----------
    feed : the grain soaked, of the library
    grain_kg : scalar [kg as fed], 0.01 to 200
    day : scalar [d], 1 to 8
    weighed_kg : scalar [kg fresh] of the whole tray, None when nobody weighed it

    Returns
    -------
    SproutFeed

    Raises
    ------
    OutOfRange : grain or day outside its range, or a tray lighter than its own dry matter
    MissingInput : a figure of the grain is blank

    Validity
    --------
    Grain limits count dry grain: 2 kg of day-7 sprouts are about 0.3 kg of grain, and as wet as fresh grass.

    References
    ----------
    dung2010; fazaeli2011; nait_merzeg; peer1985
    """
    check(grain_kg=grain_kg)
    tray = sprout(grain_of(feed), grain_kg, day, weighed_kg)
    ca_pct = feed.figures.get("ca_pct_dm")
    return SproutFeed(
        fresh_g=round(1000 * tray.fresh_kg),
        dm_pm=round(10 * tray.dm_pct),
        me_kj_kg=round(float(me_from_tdn(tray.tdn_pct))),
        cp_ug_g=round(UG_G_PER_PCT * tray.cp_pct),
        ndf_pm=round(10 * tray.ndf_pct),
        ca_ug_g=None if ca_pct is None else round(UG_G_PER_PCT * ca_pct / (1 - dm_loss(day))),
        p_ug_g=round(UG_G_PER_PCT * tray.p_pct),
        dry_grain_g=round(dry_grain(1000 * tray.dm_kg)),
        weighed=weighed_kg is not None,
    )
