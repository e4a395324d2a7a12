"""When she was with a buck, as it was said, and what her dates hang on."""

from __future__ import annotations

from typing import Any

from .order import Event, text, truth
from .twice import is_same_service


def served(event: Event, before: dict[str, Any] | None) -> dict[str, Any]:
    """When she may have settled: of two dates that are one service either may be right, so her time begins with the
    earlier and ends with the later. `on`: the first day as it was said last; `hlc`: when it was first written down;
    `still`: he is in by the last word."""
    data, hlc = event["data"], event["hlc"]
    on = text(data, "from_on") or event["on"]
    first, last = on, max(text(data, "to_on"), on)
    if before and is_same_service(before["on"], on):
        first, last = min(before["from"], first), max(before["to"], last)
        hlc = sooner(before, event)
    return {
        "from": first,
        "to": last,
        "how": text(data, "how"),
        "ev": event["id"],
        "on": on,
        "hlc": hlc,
        **_still(data),
    }


def sooner(before: dict[str, Any], event: Event) -> str:
    """When it was first written down; a row that an older build folded does not say."""
    hlc: str = event["hlc"]
    return min(str(before.get("hlc", hlc)), hlc)


def service_of(event: Event) -> dict[str, Any]:
    """What was said of one service or exposure, as it was said; it is kept whatever is said later."""
    data, first = event["data"], text(event["data"], "from_on") or event["on"]
    said = {name: text(data, name) for name in ("how", "buck")}
    return {"ev": event["id"], "from": first, "to": max(text(data, "to_on"), first), **said, **_still(data)}


def _still(data: dict[str, Any]) -> dict[str, bool]:
    """Nothing where he is out, as of every service before anybody could say so."""
    return {"still": True} if truth(data, "still") else {}
