"""What is known of scoops, bags and rounds of the barn, as the view keeps it."""

from __future__ import annotations

from typing import Any

from .order import Event, text, whole


def calibration_of(event: Event) -> dict[str, Any]:
    """One weighing of a scoop, flake or bale: each fill in grams, and the lot that was in it."""
    data, fills = event["data"], event["data"].get("fills_g")
    found = {"ev": event["id"], **{name: event[name] for name in ("on", "happened", "author")}}
    grams = [g for g in fills if isinstance(g, int) and not isinstance(g, bool)] if isinstance(fills, list) else []
    return {**found, "of": text(data, "of"), "fills_g": grams, "lot": text(data, "lot")}


def bag_of(event: Event) -> dict[str, Any]:
    """A new bag of a feed: what was weighed before that moment may no longer be true."""
    return {"ev": event["id"], "on": event["on"], "happened": event["happened"]}


def round_of(event: Event) -> dict[str, Any]:
    """One look round: heads counted, water, hay, gates, or who was let out of the head gate."""
    data, kept = event["data"], ("subject", "on", "slot", "happened", "author")
    found = {"ev": event["id"], **{name: event[name] for name in kept}}
    return {**found, "what": text(data, "what"), "count": whole(data, "count"), "of": whole(data, "of")}
