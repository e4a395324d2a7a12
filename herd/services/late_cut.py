"""A helper's cut of what a late doe is given: it waits for who plans, as a raise does.

By the calendar and by grams as fed, so that the log alone tells, and at our own late day and cut whatever a farm has
set: who may do what must not hang on which rule came first. On the phone: frontend/src/core/barn/helper_waits.ts.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from herd.outlook.days import shift
from herd.outlook.rules import RULES
from herd.state.doe_state import apply_state, new_doe
from herd.state.order import Event as Fact
from herd.state.order import by_stamp, by_time, text
from herd.state.rations import amount_on, telling, write_ration

# What says whether a doe is late, and which pen she is fed in.
SAYS_WHEN = ("bred", "preg_check", "kidded", "moved", "left_herd")


def late_from(subject: str, entry: Fact, states: Iterable[Fact]) -> str:
    """From which date somebody fed under a subject is late, as it stood when the entry happened; "" for nobody."""
    does: dict[str, dict[str, Any]] = {}
    for event in sorted(states, key=by_time):
        if by_time(event) < by_time(entry):
            apply_state(does.setdefault(event["subject"], new_doe(event["subject"])), event)
    fed = [doe for doe in does.values() if subject in (doe["id"], doe["pen"]) and doe["bred"] and not doe["left_on"]]
    return min((shift(doe["bred"]["from"], RULES["late_day"].default) for doe in fed), default="")


def cuts(entry: Fact, planned: Iterable[Fact], all_rations: Iterable[Fact], late_on: str) -> bool:
    """Whether on a late date the subject comes to get that much less than those who plan have set."""
    first = min(text(step, "on") for step in entry["data"]["steps"])
    eve = shift(max(first, late_on), -1)
    before, after = _totals(entry, planned, eve), _totals(entry, [*all_rations, entry], eve)
    dates = {on for row in (*before, *after) for on, _ in row["steps"]}

    def falls(on: str) -> bool:
        """There and then; what was lowered while it was early is no late cut."""
        lost, lost_before = (_sum(before, day) - _sum(after, day) for day in (on, shift(on, -1)))
        less = 1000 * _sum(after, on) < (1000 - RULES["cut_pm"].default) * _sum(before, on)
        return less and (first >= late_on or lost > lost_before)

    return any(falls(on) for on in dates if on >= max(first, late_on))


def _totals(entry: Fact, events: Iterable[Fact], eve: str) -> list[dict[str, Any]]:
    """As they are on that date and later."""
    held: dict[str, Any] = {}
    about = (event for event in events if event["kind"] == "ration" and event["subject"] == entry["subject"])
    for event in telling(sorted(about, key=by_stamp), eve):
        write_ration(held, event, {})
    return list(held.values())


def _sum(rations: list[dict[str, Any]], on: str) -> int:
    return sum(amount_on(row["steps"], on) for row in rations)
