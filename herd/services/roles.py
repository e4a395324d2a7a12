"""What each role may do with each kind of entry: one table, read when an entry comes and when it is judged again.

What depends on what stands before an entry is judged in herd/services/standing.py, in the log's own order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER
from herd.state.kinds import CHAINS, KINDS, OBSERVATION
from herd.state.order import Event
from herd.state.payloads import Problem

from .judge import Seen

BOTH, TAKE_BACK, NEITHER = CHAINS, ("void",), ()
# How an entry may be recorded. The last three depend on what stands before it.
ANY, NEVER, UNPLACED, NO_RAISE, NO_END = "any", "never", "unplaced", "no_raise", "no_end"


@dataclass(frozen=True, slots=True)
class May:
    """How a role records a kind; which links it may put on its own entries of that kind, and on other people's."""

    record: str
    own: tuple[str, ...]
    others: tuple[str, ...]


ALL, NOTHING = May(ANY, BOTH, BOTH), May(NEVER, NEITHER, NEITHER)
SEEN = {kind.name: ALL for kind in KINDS.values() if kind.family == OBSERVATION}
RECORDED, OWNERS = May(ANY, BOTH, NEITHER), NOTHING
MAY: dict[str, dict[str, May]] = {
    OWNER: dict.fromkeys(KINDS, ALL),
    FAMILY: dict.fromkeys(KINDS, ALL),
    HELPER: {
        **SEEN,
        **dict.fromkeys(("rules", "contact", "left_herd", "decline"), OWNERS),
        **dict.fromkeys(("doe", "pen"), May(UNPLACED, BOTH, NEITHER)),
        **dict.fromkeys(("feed", "lot", "scoop", "shelf"), RECORDED),
        # A jar is a chore: whoever is in the barn says that it was fed, or that it was not.
        "jar": ALL,
        "ration": May(NO_RAISE, TAKE_BACK, NEITHER),
        "wish": May(ANY, TAKE_BACK, NEITHER),
        "freeze": May(NO_END, TAKE_BACK, NEITHER),
        **dict.fromkeys(("bred", "preg_check", "moved", "dried_off", "kidded", "treatment"), RECORDED),
        **dict.fromkeys(("calibration", "new_bag"), RECORDED),
        # Of an undo of an undo, what was first recorded decides.
        **dict.fromkeys(CHAINS, ALL),
    },
    ADVISER: dict.fromkeys(KINDS, NOTHING),
}

READ_ONLY = Problem("not_allowed", "", "An adviser can read this farm and record nothing: ask the owner.")
OWNERS_ORDER = Problem(
    "not_allowed", "f.order", "The owner or family sets the order of pens and does: ask one of them."
)
STAYS_HELD = Problem("not_allowed", "until_on", "The owner or family ends the hold on her grain: ask one of them.")
NO_MORE = Problem("not_allowed", "steps", "Only the owner or family raises a ration: ask one of them to do it.")
NO_LATE_CUT = Problem(
    "not_allowed", "steps", "This late before kidding only the owner or family cuts a ration: ask one of them to do it."
)
NOT_HERS = Problem(
    "not_allowed", "of", "The owner or family takes back or corrects what somebody else recorded: ask one of them."
)
AS_IT_IS = Problem("not_allowed", "of", "A plan is not corrected: take it back and record it again.")
NOT_SAID = Problem("not_allowed", "kind", "The owner or family records this: ask one of them.")
WHY = {
    "rules": Problem("not_allowed", "f", "The owner or family sets the herd rules: ask one of them."),
    "contact": Problem("not_allowed", "f", "The owner or family sets the people to ring: ask one of them."),
    "left_herd": Problem("not_allowed", "why", "The owner or family says that a doe has left: ask one of them."),
    "decline": Problem("not_allowed", "of", "The owner or family says so: ask one of them."),
}


def not_allowed(role: str, event: Event, chain: Sequence[Seen], received_on: date) -> Problem | None:
    """Why somebody of a role may not record an event of a kind we know, or None; by the event alone and what it names.

    `chain`: for a link, the entries it leads to, the first recorded one last. Role "": taken before roles were kept.
    """
    if role == ADVISER:
        return READ_ONLY
    if role not in MAY:
        return None
    if event["kind"] in CHAINS:
        return _link(role, event, chain)
    how = MAY[role].get(event["kind"], NOTHING).record
    if how == NEVER:
        return WHY.get(event["kind"], NOT_SAID)
    return STAYS_HELD if how == NO_END and ends_hold(event, received_on) else None


def ends_hold(event: Event, received_on: date) -> bool:
    """A hold lifted, or put off: while it waits for its first day, the one that stands would be gone."""
    put_off = "odd" not in event and event["on"] > (received_on + timedelta(days=1)).isoformat()
    return put_off or not event["data"]["until_on"]


def _link(role: str, event: Event, chain: Sequence[Seen]) -> Problem | None:
    first = chain[-1]
    may = MAY[role].get(first.kind, NOTHING)
    own = chain[0].author == first.author == event["author"]
    if event["kind"] not in (may.own if own else may.others):
        return AS_IT_IS if own else STAYS_HELD if first.kind == "freeze" else NOT_HERS
    moves = event["kind"] == "correct" and may.record == UNPLACED and "order" in event["data"]["data"].get("f", ())
    return OWNERS_ORDER if moves else None
