"""What each role may do with each kind of entry: herd/state/tables/roles.toml, read when an entry comes and again.

What depends on what stands before an entry is judged in herd/services/standing.py, in the log's own order.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from herd.models.farm import ADVISER, ROLES
from herd.state.kinds import CHAINS, KINDS
from herd.state.order import Event
from herd.state.payloads import Problem
from herd.state.tables import FIELDS
from herd.state.tables import ROLES as TABLE

from .judge import Seen

GONE = object()
# How an entry may be recorded. The last two depend on what stands before it.
ANY, NEVER, NO_RAISE, NO_END = "any", "never", "no_raise", "no_end"


@dataclass(frozen=True, slots=True)
class May:
    """How a role records a kind; which links it may put on its own entries of that kind, and on other people's.

    `placed`: fields of a record that are its own only in the entry that makes it; `named`: fields of which one is said
    by whoever makes a record; `never_sooner`: days that its links may put off, and never bring nearer.
    """

    record: str
    own: tuple[str, ...] = ()
    others: tuple[str, ...] = ()
    placed: frozenset[str] = frozenset()
    never_sooner: tuple[str, ...] = ()
    named: frozenset[str] = frozenset()


def _way(name: str) -> May:
    row = TABLE["way"][name]
    named: list[str] = row.get("placed", [])
    fields = {field for one in named for field in (FIELDS["sets"][one[1:]] if one.startswith("@") else (one,))}
    own, others = (tuple(row.get(whose, ())) for whose in ("own", "others"))
    never_sooner, makes = tuple(row.get("never_sooner", ())), frozenset(row.get("named", ()))
    return May(row["record"], own, others, frozenset(fields), never_sooner, makes)


WAYS = {name: _way(name) for name in TABLE["way"]}
WAY_OF: dict[str, dict[str, str]] = {
    role: {kind: TABLE.get(role, {}).get(kind, TABLE["usual"][role]) for kind in KINDS} for role, _ in ROLES
}
MAY = {role: {kind: WAYS[way] for kind, way in ways.items()} for role, ways in WAY_OF.items()}


def may(role: str, kind: str) -> May:
    return MAY[role].get(kind) or WAYS[TABLE["usual"][role]]


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
NO_SOONER = Problem(
    "not_allowed", "milk_until", "Only the owner or family ends a hold on milk or meat sooner: ask one of them."
)
NOT_SAID = Problem("not_allowed", "kind", "The owner or family records this: ask one of them.")
WHY = {
    "rules": Problem("not_allowed", "f", "The owner or family sets the herd rules: ask one of them."),
    "contact": Problem("not_allowed", "f", "The owner or family sets the people to ring: ask one of them."),
    "left_herd": Problem("not_allowed", "why", "The owner or family says that a doe has left: ask one of them."),
    "decline": Problem("not_allowed", "of", "The owner or family says so: ask one of them."),
    "pack": Problem("not_allowed", "f", "The owner or family makes the sitter's pack: ask one of them."),
    "dry_plan": Problem("not_allowed", "last_on", "The owner or family says when she is dried off: ask one of them."),
    "own_task": Problem("not_allowed", "f", "The owner or family sets the herd's own tasks: ask one of them."),
}
WHATS_IN_IT = "The owner or family sets what is in a feed that is in use: ask one of them."
VETS_WORD = "The owner or family changes what the vet wrote: ask one of them."


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
    how = may(role, event["kind"]).record
    if how == NEVER:
        return WHY.get(event["kind"], NOT_SAID)
    return STAYS_HELD if how == NO_END and ends_hold(event, received_on) else None


def ends_hold(event: Event, received_on: date) -> bool:
    """A hold lifted, or put off: while it waits for its first day, the one that stands would be gone."""
    put_off = "odd" not in event and event["on"] > (received_on + timedelta(days=1)).isoformat()
    return put_off or not event["data"]["until_on"]


def _link(role: str, event: Event, chain: Sequence[Seen]) -> Problem | None:
    first = chain[-1]
    how = may(role, first.kind)
    own = chain[0].author == first.author == event["author"]
    if event["kind"] not in (how.own if own else how.others):
        return AS_IT_IS if own else STAYS_HELD if first.kind == "freeze" else NOT_HERS
    if event["kind"] != "correct":
        return None
    said = event["data"]["data"].get("f")
    return kept_fields(role, first.kind, said if isinstance(said, dict) else {}, first.f)


def kept_fields(role: str, kind: str, said: dict[str, Any], instead_of: dict[str, Any]) -> Problem | None:
    """What a role may not say of a record that stands already; to leave out what was said is to say something else."""
    fields = may(role, kind).placed & (said.keys() | instead_of.keys())
    kept = sorted(name for name in fields if said.get(name, GONE) != instead_of.get(name, GONE))
    if not kept or kept == ["order"]:
        return OWNERS_ORDER if kept else None
    return Problem("not_allowed", f"f.{kept[0]}", VETS_WORD if kind == "shelf" else WHATS_IN_IT)
