"""The farm's book: herd rules as they stand, and what every feed and lot is made of."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science import VERSION
from herd.science.feeds import scoops
from herd.science.feeds.library import Feed, feeds
from herd.science.feeds.spreads import together_pm
from herd.science.intake.grazing import AMOUNTS, grazed
from herd.science.needs.protein import mp_per_cp
from herd.science.parameters import values

from .compiling.signs import sign_tables
from .entered import BookFeed, entered
from .learned import NOTHING, Learned
from .rules import RULES, rules_of
from .shapes import Book
from .tables import LIKES

SCHEMA = 1
STANDARD_UIP = values("protein")["uip_share"]
USED = mp_per_cp(STANDARD_UIP)
FIGURES = ("dm_pm", "me_kj_kg", "cp_ug_g", "ndf_pm", "ca_ug_g", "p_ug_g")
# Feeds nobody carries to a feeder: she takes them where they grow, and how much is a guess.
GRAZED = ("pasture_", "browse_", "alfalfa_fresh")
GRAZED_SD_PM = grazed("half", 1.0).spread_pm
UNTESTED_SD_PM = RULES["feed_sd_pm"].default


def compile_book(view: Mapping[str, Any], learned: Learned = NOTHING) -> Book:
    """The book of a folded view.

    Parameters
    ----------
    view : folded view of a farm
    learned : what its own kiddings have taught of signs

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
        "grazing": {
            amount: [round(1000 * grazed(amount, 1.0).dm_kg), grazed(amount, 1.0).spread_pm] for amount in AMOUNTS
        },
        "signs": sign_tables(learned.leads),
        "feeds": all_feeds,
    }


def _of_library(feed: Feed) -> BookFeed:
    figures: BookFeed = {name: getattr(feed, name) for name in FIGURES}
    escapes = feed.figures.get("rup_pct_cp")
    share = None if escapes is None else round(10 * escapes)
    found: BookFeed = {"name": feed.name, "class": feed.feed_class, **figures, "uip_pm": share}
    return {**found, **_guesses(feed.id)}


def _guesses(feed_id: str) -> BookFeed:
    """What a level litre of it may weigh, and whether she takes it where it grows."""
    found: BookFeed = {}
    if feed_id in scoops.feeds_with_density():
        litre = scoops.scoop_guess(feed_id, 1)
        found |= {"l_g": round(litre.g), "l_low_g": round(litre.low_g), "l_high_g": round(litre.high_g)}
    if feed_id.startswith(GRAZED):
        found["grazed"] = 1
    return found


def _worked(feed: BookFeed) -> BookFeed:
    """Protein at the share of it that is used, and how sure the energy is where it was tested."""
    cp, share = feed["cp_ug_g"], feed.get("uip_pm")
    eq = None if cp is None else round(int(cp) * mp_per_cp(STANDARD_UIP if share is None else int(share) / 1000) / USED)
    if feed.get("grazed"):
        # What was tested is the plant; how much of it she took stays a guess.
        feed = {**feed, "me_sd_pm": together_pm(int(feed.get("me_sd_pm") or UNTESTED_SD_PM), GRAZED_SD_PM)}
    return {**feed, "cp_eq_ug_g": eq}


def _own(f: Mapping[str, Any], library: Mapping[str, BookFeed]) -> BookFeed:
    """Dry matter of the feed usual for its class where nothing else is known: a bag is never nothing."""
    found = _described(f, library.get(str(f.get("like") or "")))
    usual = LIKES.get(str(found["class"]), {}).get("feed", "")
    if found["dm_pm"] is not None or not usual:
        return found
    return {**found, "dm_pm": library[usual]["dm_pm"], "dm_of": usual}


def _lot(f: Mapping[str, Any], known: Mapping[str, BookFeed]) -> BookFeed:
    of = str(f.get("feed") or "")
    return {**_described(f, known.get(of)), "of": of}


def _described(f: Mapping[str, Any], like: BookFeed | None) -> BookFeed:
    base: BookFeed = dict.fromkeys(FIGURES)
    base["class"] = ""
    found: BookFeed = {**base, **(like or {}), **entered(f)}
    found.pop("of", None)
    if "dm_pm" in entered(f):
        found.pop("dm_of", None)
    return {**found, "name": str(f.get("name") or (like or {}).get("name") or "")}
