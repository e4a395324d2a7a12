"""What only those who plan may change: whoever helps records, holds and reduces."""

from __future__ import annotations

from herd.models.farm import HELPER
from herd.state.kinds import CHAINS
from herd.state.order import Event
from herd.state.payloads import Problem

from .judge import Log

READ_ONLY = Problem("not_allowed", "", "An adviser can read this farm and record nothing: ask the owner.")
OWNERS_ORDER = Problem(
    "not_allowed", "f.order", "The owner or family sets the order of pens and does: ask one of them."
)
STAYS_HELD = Problem("not_allowed", "until_on", "The owner or family ends the hold on her grain: ask one of them.")
ORDERED = ("doe", "pen")


def not_hers(role: str, event: Event, log: Log) -> Problem | None:
    """Why somebody of a role may not have recorded an event of a kind we know, or None.

    Whoever adds a doe or a pen gives it the last place in its row; only moving one that stands is the owner's.
    """
    if role != HELPER:
        return None
    kind, data = event["kind"], event["data"]
    if kind in ORDERED and "order" in data["f"] and (event["subject"], kind) in log.subjects:
        return OWNERS_ORDER
    return STAYS_HELD if _ends_hold(event, log) else None


def _ends_hold(event: Event, log: Log) -> bool:
    """A hold lifted, or somebody else's hold taken back or changed."""
    kind, data = event["kind"], event["data"]
    if kind == "freeze":
        return not data["until_on"]
    target = log.events.get(data["of"]) if kind in CHAINS else None
    return target is not None and target.kind == "freeze" and target.author != event["author"]
