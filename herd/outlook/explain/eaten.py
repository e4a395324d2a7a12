"""What she ate on a day, feed by feed: whose it was, its composition, how that is known, and how pen hay was shared."""

from __future__ import annotations

from typing import Any

from herd.science.feed_library import provenance
from herd.science.parameters import values
from herd.state.doe_state import pen_on

from ..balance import confirmed, eaten_on, supply
from ..context import Context
from ..needs import appetite_on
from ..sharing import share_day, waste_pm
from .words import CONTENT, NAMES, UNITS, heading, table

ENTERED = {"me": "tdn_pct_x10", "cp": "cp_pct_x10", "ca": "ca_pct_x100", "p": "p_pct_x100"}


def feed_rows(ctx: Context, doe_id: str, on: str, nutrient: str) -> list[list[Any]]:
    """[feed, g dry matter, of it hers alone, content per kg or "unknown", nutrient, how the content is known]"""
    eaten = eaten_on(ctx, doe_id, on)
    rows = []
    for feed_id, dm_g in eaten["dm"].items():
        feed = ctx.feed(feed_id)
        content = feed[CONTENT[nutrient][0]] if feed else None
        got = supply(ctx, {feed_id: dm_g})[0][nutrient]
        shown = "unknown" if content is None else content
        rows.append(
            [name_of(ctx, feed_id), dm_g, eaten["own"].get(feed_id, 0), shown, got, known_by(ctx, feed_id, nutrient)]
        )
    return rows


def name_of(ctx: Context, feed_id: str) -> str:
    """A feed's name, its id where nobody named it."""
    feed = ctx.feed(feed_id)
    return str(feed["name"]) if feed else feed_id


def known_by(ctx: Context, feed_id: str, nutrient: str) -> str:
    """Where a content comes from: entered by the keeper, or the feed library with its standing and source."""
    own = ctx.view["lots"].get(feed_id) or ctx.view["feeds"].get(feed_id)
    fields = own["f"] if own else {}
    if fields.get(ENTERED[nutrient]) is not None:
        factor = values("composition")["me_mj_per_tdn_pct"]
        return f"TDN entered on the farm x {factor:g} MJ" if nutrient == "me" else "entered on the farm"
    library_id = str(fields.get("feed") or fields.get("like") or feed_id)
    if library_id in ctx.view["lots"] or library_id in ctx.view["feeds"]:
        return known_by(ctx, library_id, nutrient)
    origin = provenance(library_id, CONTENT[nutrient][2])
    return f"{origin.standing} {origin.source} ({library_id})" if origin else f"not known ({library_id})"


def eaten_text(ctx: Context, doe_id: str, on: str, nutrient: str) -> list[str]:
    """The day's feeds as a table with its total."""
    _, unit, _ = CONTENT[nutrient]
    rows = feed_rows(ctx, doe_id, on, nutrient)
    lines = heading(f"Eaten on {on} ({'confirmed' if confirmed(ctx, doe_id, on) else 'not confirmed'})")
    head = ["feed", "g DM", "hers alone", f"{NAMES[nutrient]}, {unit} DM", UNITS[nutrient], "known from"]
    total = ["together", sum(r[1] for r in rows), sum(r[2] for r in rows), "", sum(r[4] for r in rows), ""]
    return [*lines, *table([head, *rows, total]), *sharing_text(ctx, doe_id, on)]


def sharing_text(ctx: Context, doe_id: str, on: str) -> list[str]:
    """How the pen's shared feed was divided: each doe's appetite, what she ate, and the feeder's waste."""
    pen = pen_on(ctx.view["does"][doe_id], on) or doe_id
    shares = share_day(ctx, pen, on, False)
    shared = sorted({feed for eaten in shares.values() for feed in eaten["dm"] if feed not in eaten["own"]})
    if len(shares) < 2 or not shared:
        return []
    rows: list[list[Any]] = [["doe", "appetite g DM", "own feed g DM", "shared feed g DM", ""]]
    for mate, eaten in shares.items():
        own, all_g = sum(eaten["own"].values()), sum(eaten["dm"].values())
        rows.append([doe_name(ctx, mate), appetite_on(ctx, mate, on), own, all_g - own, ""])
    waste = ", ".join(f"{name_of(ctx, feed)} {waste_pm(ctx, pen, feed) / 10:g} %" for feed in shared)
    lines = heading(f"How the pen's feed was shared on {on}")
    return [*lines, f"  by what appetite is left at each meal; wasted at the feeder: {waste}", *table(rows)]


def doe_name(ctx: Context, doe_id: str) -> str:
    """Her name, her id where she has none."""
    return str(ctx.view["does"][doe_id]["f"].get("name") or doe_id)
