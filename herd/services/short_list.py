"""Which record writes and rations a new phone needs: the fewest that fold to what the whole history folds to.

What was written since a stamp stays whole, because each of it may still be taken back or put right; what was written
before it is cut down to the fewest that fold alike, so whatever comes after finds the same ground. An entry that comes
late from before that stamp, or is about one, makes a phone fetch the list again.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from herd.state.fold import PLACES, fold
from herd.state.kinds import KINDS
from herd.state.order import Event, rows, text

BARE: dict[str, Any] = {"f": {}, "base": {}}
PARTS = ("does", *PLACES.values())


def needed_records(events: list[Event], linked: set[str], since: str) -> set[str]:
    """Ids of the record writes to keep. `linked`: events a void or correction names; their record is kept whole."""
    keep: set[str] = set()
    for writes in _grouped(events, lambda event: str(event["subject"])):
        everything = {event["id"] for event in writes}
        before = [event for event in writes if event["hlc"] < since]
        gone = {event["id"] for event in before} - _fewest(before)
        keep |= everything if everything & linked else everything - gone
    return keep


def _fewest(writes: list[Event]) -> set[str]:
    whole = _records(writes)
    wanted = {mark for record in whole["records"] for mark in record["by"].values()}
    wanted |= _asked(whole["questions"])
    same = _records([event for event in writes if event["id"] in wanted]) == whole
    return wanted if same else {event["id"] for event in writes}


def _records(writes: list[Event]) -> dict[str, Any]:
    view = fold(writes)
    records = [record for part in PARTS for record in view[part].values()]
    return {"records": [*records, view["rules"]], "questions": view["questions"]}


def needed_rations(events: list[Event], linked: set[str], since: str, cutoff: str) -> set[str]:
    """Ids of the ration events to keep: those that still say what is fed on the cutoff or later."""
    keep: set[str] = set()
    for sets in _grouped(events, lambda event: f"{event['subject']}|{text(event['data'], 'slot')}|{_feed(event)}"):
        everything = {event["id"] for event in sets}
        before = [event for event in sets if event["hlc"] < since]
        gone = {event["id"] for event in before} - _fewest_rations(before, cutoff)
        keep |= everything if everything & linked else everything - gone
    return keep


def _feed(event: Event) -> str:
    return text(event["data"], "feed")


def _fewest_rations(sets: list[Event], cutoff: str) -> set[str]:
    if not sets:
        return set()
    whole = _ration(sets, cutoff)
    starts = {on for on, _ in whole["steps"]}
    wanted = _asked(whole["questions"]) | {whole["ev"]}
    wanted |= {event["id"] for event in sets if starts & {text(step, "on") for step in rows(event["data"], "steps")}}
    # a wish that was let in must not wait again on a new phone
    wanted |= {event["id"] for event in sets if text(event["data"], "wish")}
    same = _ration([event for event in sets if event["id"] in wanted], cutoff) == whole
    return wanted if same else {event["id"] for event in sets}


def _ration(sets: list[Event], cutoff: str) -> dict[str, Any]:
    # A ration is folded only where its doe or pen is known: a bare record stands in for her here.
    view = fold([{**sets[0], "id": "", "kind": "pen", "v": KINDS["pen"].newest, "hlc": "", "data": BARE}, *sets])
    found: dict[str, Any] = next(iter(view["rations"].values()), {"steps": [], "hlc": "", "ev": ""})
    return {**found, "steps": in_force(found["steps"], cutoff), "questions": view["questions"]}


def in_force(steps: list[list[Any]], cutoff: str) -> list[list[Any]]:
    """The step in force on the cutoff, and every later one."""
    past = [step for step in steps if step[0] <= cutoff]
    return [*past[-1:], *(step for step in steps if step[0] > cutoff)]


def _asked(questions: list[dict[str, Any]]) -> set[str]:
    return {side["ev"] for question in questions for side in question["values"]}


def _grouped(events: Iterable[Event], key: Any) -> list[list[Event]]:
    groups: dict[str, list[Event]] = {}
    for event in events:
        groups.setdefault(key(event), []).append(event)
    return list(groups.values())
