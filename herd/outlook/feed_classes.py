"""Which classes of feed count as forage and which as grain."""

from __future__ import annotations

from typing import Any

FORAGE = ("legume", "grass", "mixed")
CONCENTRATE = ("grain", "protein", "byproduct", "fat", "fodder")


def is_grain(feed: dict[str, Any] | None) -> bool:
    """True for a feed that counts toward grain limits; a feed nobody has described is none."""
    return feed is not None and feed["class"] in CONCENTRATE
