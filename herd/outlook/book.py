"""The farm's book: herd rules as they stand, and what every feed and lot is made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science import VERSION
from herd.science.composition import me_from_tdn
from herd.science.errors import OutOfRange
from herd.science.feed_library import Feed, feeds
from herd.science.protein import mp_per_cp

from .rules import rules_of
from .shapes import Book

SCHEMA = 1
BookFeed = dict[str, str | int | None]
STANDARD_UIP = 0.20
USED = mp_per_cp(STANDARD_UIP)
TESTED_SD_PM = 50  # judgement: a laboratory test of this lot, sampling included
FIGURES = ("dm_pm", "me_kj_kg", "cp_ug_g", "ndf_pm", "ca_ug_g", "p_ug_g")
# field on the record, figure in the book, factor from the keeper's unit
ENTERED = (
    ("dm_pct_x10", "dm_pm", 1),
    ("cp_pct_x10", "cp_ug_g", 1000),
    ("ndf_pct_x10", "ndf_pm", 1),
    ("ca_pct_x100", "ca_ug_g", 100),
    ("p_pct_x100", "p_ug_g", 100),
)


def compile_book(view: Mapping[str, Any]) -> Book:
    """The book of a folded view.

    Parameters
    ----------
    view : folded view of a farm

    Returns
    -------
    Book. A figure the keeper entered wins; one left blank is that of the feed it is like or a lot of; else None.
    """
    library: dict[str, BookFeed] = {feed_id: _of_library(feed) for feed_id, feed in feeds().items()}
    own = {feed_id: _own(record["f"], library) for feed_id, record in sorted(view["feeds"].items())}
    known = {**library, **own}
    lots = {lot_id: _lot(record["f"], known) for lot_id, record in sorted(view["lots"].items())}
    all_feeds = {feed_id: _worked(feed) for feed_id, feed in {**known, **lots}.items()}
    return {
        "schema": SCHEMA,
        "science": VERSION,
        "doe": "",
        "rev": 0,
        "rules": rules_of(dict(view["rules"]["f"])),
        "feeds": all_feeds,
    }


def _of_library(feed: Feed) -> BookFeed:
    figures: BookFeed = {name: getattr(feed, name) for name in FIGURES}
    escapes = feed.figures.get("rup_pct_cp")
    share = None if escapes is None else round(10 * escapes)
    return {"name": feed.name, "class": feed.feed_class, **figures, "uip_pm": share}


def _worked(feed: BookFeed) -> BookFeed:
    """Protein at the share of it that is used, and how sure the energy is where it was tested."""
    cp, share = feed["cp_ug_g"], feed.get("uip_pm")
    eq = None if cp is None else round(int(cp) * mp_per_cp(STANDARD_UIP if share is None else int(share) / 1000) / USED)
    return {**feed, "cp_eq_ug_g": eq}


def _own(f: Mapping[str, Any], library: Mapping[str, BookFeed]) -> BookFeed:
    return _described(f, library.get(str(f.get("like") or "")))


def _lot(f: Mapping[str, Any], known: Mapping[str, BookFeed]) -> BookFeed:
    of = str(f.get("feed") or "")
    return {**_described(f, known.get(of)), "of": of}


def _described(f: Mapping[str, Any], like: BookFeed | None) -> BookFeed:
    base: BookFeed = dict.fromkeys(FIGURES)
    base["class"] = ""
    found: BookFeed = {**base, **(like or {}), **_entered(f)}
    found.pop("of", None)
    return {**found, "name": str(f.get("name") or (like or {}).get("name") or "")}


def _entered(f: Mapping[str, Any]) -> BookFeed:
    """Figures the keeper typed from a bag or a forage test, in the book's units."""
    found: BookFeed = {figure: f[field] * factor for field, figure, factor in ENTERED if isinstance(f.get(field), int)}
    if isinstance(f.get("tdn_pct_x10"), int):
        try:
            found["me_kj_kg"] = round(float(me_from_tdn(f["tdn_pct_x10"] / 10)))
            found["me_sd_pm"] = TESTED_SD_PM
        except OutOfRange:
            found["me_kj_kg"] = None
    return found
