"""What she ate on a day, feed by feed: whose it was, its composition, how that is known, and how pen hay was shared."""

from __future__ import annotations

from typing import Any

from herd.science.feeds.library import provenance
from herd.science.parameters import values
from herd.state.doe_state import pen_on

from ..evaluate import FarmDay
from .words import CONTENT, NAMES, UNITS, heading, table

ENTERED = {"me": "tdn_pct_x10", "cp": "cp_pct_x10", "ca": "ca_pct_x100", "p": "p_pct_x100"}


def feed_rows(farm: FarmDay, doe_id: str, on: str, nutrient: str) -> list[list[Any]]:
    """[feed, g dry matter, of it hers alone, content per kg or "unknown", nutrient, how the content is known]"""
    rows = []
    for part in farm.ask("feed_parts", doe_id, on, False, nutrient):
        content = farm.feed(part["feed"]).get(CONTENT[nutrient][0])
        name, known = name_of(farm, part["feed"]), known_by(farm, part["feed"], nutrient)
        shown = "unknown" if content is None else content
        rows.append([name, part["dm_g"], part["own_g"], shown, part["value"], known])
    return rows


def name_of(farm: FarmDay, feed_id: str) -> str:
    """A feed's name, its id where nobody named it."""
    return str(farm.feed(feed_id).get("name", feed_id))


def known_by(farm: FarmDay, feed_id: str, nutrient: str) -> str:
    """Where a content comes from: entered by the keeper, or the feed library with its standing and source."""
    own = farm.view["lots"].get(feed_id) or farm.view["feeds"].get(feed_id)
    fields = own["f"] if own else {}
    if fields.get(ENTERED[nutrient]) is not None:
        factor = values("composition")["me_mj_per_tdn_pct"]
        return f"TDN entered on the farm x {factor:g} MJ" if nutrient == "me" else "entered on the farm"
    library_id = str(fields.get("feed") or fields.get("like") or feed_id)
    if library_id in farm.view["lots"] or library_id in farm.view["feeds"]:
        return known_by(farm, library_id, nutrient)
    origin = provenance(library_id, CONTENT[nutrient][2])
    return f"{origin.standing} {origin.source} ({library_id})" if origin else f"not known ({library_id})"


def eaten_text(farm: FarmDay, doe_id: str, on: str, nutrient: str) -> list[str]:
    """The day's feeds as a table with its total."""
    _, unit, _ = CONTENT[nutrient]
    rows = feed_rows(farm, doe_id, on, nutrient)
    lines = heading(f"Eaten on {on} ({'confirmed' if farm.ask('confirmed', doe_id, on) else 'not confirmed'})")
    head = ["feed", "g DM", "hers alone", f"{NAMES[nutrient]}, {unit} DM", UNITS[nutrient], "known from"]
    total = ["together", sum(r[1] for r in rows), sum(r[2] for r in rows), "", sum(r[4] for r in rows), ""]
    return [*lines, *table([head, *rows, total]), *sharing_text(farm, doe_id, on)]


def sharing_text(farm: FarmDay, doe_id: str, on: str) -> list[str]:
    """How the pen's shared feed was divided: each doe's appetite, what she ate, and the feeder's waste."""
    pen = pen_on(farm.view["does"][doe_id], on) or doe_id
    shares = farm.ask("share_day", pen, on, False)
    shared = sorted({feed for eaten in shares.values() for feed in eaten["dm"] if feed not in eaten["own"]})
    if len(shares) < 2 or not shared:
        return []
    rows: list[list[Any]] = [["doe", "appetite g DM", "own feed g DM", "shared feed g DM", ""]]
    for mate, eaten in shares.items():
        own, all_g = sum(eaten["own"].values()), sum(eaten["dm"].values())
        rows.append([doe_name(farm, mate), farm.ask("appetite_on", mate, on), own, all_g - own, ""])
    waste = ", ".join(f"{name_of(farm, feed)} {farm.ask('waste_pm', pen, feed) / 10:g} %" for feed in shared)
    lines = heading(f"How the pen's feed was shared on {on}")
    return [*lines, f"  by what appetite is left at each meal; wasted at the feeder: {waste}", *table(rows)]


def doe_name(farm: FarmDay, doe_id: str) -> str:
    """Her name, her id where she has none."""
    return str(farm.view["does"][doe_id]["f"].get("name") or doe_id)
