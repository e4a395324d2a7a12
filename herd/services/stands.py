"""While a sitter is there the amounts stand: what is planned for the dates of a pack is changed by owners alone.

By every ration of others that would change it, and by every link that takes a ration back. On the phone:
frontend/src/core/barn/stands.ts.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from herd.models import Event
from herd.models.event import OK
from herd.state import chains
from herd.state.fold import fold
from herd.state.kinds import CHAINS
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, content, text
from herd.state.payloads import Problem
from herd.state.rations import amount_on, write_ration
from herd.state.readable import is_date
from herd.state.records import write_record

from .entry import Entry
from .wire import replay

Dates = tuple[str, str]


def dates_of(facts: Iterable[Fact]) -> list[Dates]:
    """First and last day of each pack that stands, by these alone."""
    held: dict[str, Any] = {}
    for event in sorted(facts, key=by_stamp):
        if event["kind"] == "pack":
            write_record(held.setdefault(event["subject"], {"f": {}, "stamp": {}, "by": {}}), event, {})
    found = [row["f"] for row in held.values() if row["f"].get("gone") is not True]
    dates = [(text(f, "from_on"), text(f, "to_on")) for f in found]
    return [(first, last) for first, last in dates if is_date(first) and is_date(last)]


def dates_of_pack(farm_id: str, pack: str) -> Dates | None:
    """Of one that stands on this farm, as far as it has sent its dates."""
    rows = Event.objects.filter(farm_id=farm_id, subject=pack, kind__in=("pack", *CHAINS), fold_status=OK)
    view = fold([replay(raw, eff) for raw, eff in rows.values_list("raw", "eff")])
    fields = view["packs"][pack]["f"] if pack in view["packs"] else {}
    first, last = text(fields, "from_on"), text(fields, "to_on")
    stands = fields.get("gone") is not True and is_date(first) and is_date(last)
    return (first, last) if stands else None


def amounts_stand(entry: Fact, facts: list[Fact], links: list[Fact]) -> Problem | None:
    """Why an entry may not count that changes what is planned for a pack's dates, by what stands before it."""
    before = chains.settle([*facts, *links])[0]
    dates = dates_of(before)
    if not dates:
        return None
    after = chains.settle([*facts, *links, entry])[0]
    was, now = (_planned(events, entry["subject"]) for events in (before, after))
    broken = [last for first, last in dates if _differ(was, now, first, last)]
    return _until(max(broken)) if broken else None


def _planned(facts: Iterable[Fact], subject: str) -> dict[str, Any]:
    held: dict[str, Any] = {}
    for event in sorted(facts, key=by_stamp):
        if event["kind"] == "ration" and event["subject"] == subject:
            write_ration(held, event, {})
    return {key: row["steps"] for key, row in held.items()}


def _differ(was: dict[str, Any], now: dict[str, Any], first: str, last: str) -> bool:
    for key in was.keys() | now.keys():
        before, after = was.get(key, []), now.get(key, [])
        days = {first, *(on for on, _ in (*before, *after) if first < on <= last)}
        if first <= last and any(amount_on(before, on) != amount_on(after, on) for on in days):
            return True
    return False


def _until(on: str) -> Problem:
    last = date.fromisoformat(on)
    said = f"{last.day} {last:%B}"
    return Problem("not_allowed", "steps", f"The amounts stand until {said}: ask the owner.")


def bears_on(said: Fact, event: Fact) -> bool:
    return said["kind"] not in CHAINS and (said["kind"] == "pack" or said["subject"] == event["subject"])


def links_of_rations(held: list[Entry]) -> dict[str, tuple[Entry, Entry]]:
    """Links that lead to a ration, each with what it names and with the ration."""
    by_id = {one.id: one for one in held}
    found: dict[str, tuple[Entry, Entry]] = {}
    for entry in held:
        target = root = by_id.get(text(content(entry.event), "of")) if entry.event["kind"] in CHAINS else None
        met = {entry.id}
        while root and root.event["kind"] in CHAINS and root.id not in met:
            met.add(root.id)
            root = by_id.get(text(content(root.event), "of"))
        if target and root and root.event["kind"] == "ration":
            found[entry.id] = (target, root)
    return found
