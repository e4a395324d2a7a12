"""The year's tasks whose days begin or end, told in the morning: one notice a day, however many they are."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, timedelta
from typing import Any

from herd.models import Farm

from ..due import starts_ms
from ..year_tasks import tasks_of
from .clock import HOUR_MS, TASK, TASKS_AT_H, Clock

# Of several tasks: of these does, or of the herd.
MANY, OF_HERD = "tasks", "tasks_herd"
NAMED = 3
# What was to be told yesterday may still be on its way.
DAYS = (-1, 0, 1)


def today_clocks(farm: Farm, view: Mapping[str, Any], outlooks: Mapping[str, Any], today: date) -> list[Clock]:
    days = [today + timedelta(days=away) for away in DAYS]
    tasks = [task for task in tasks_of(view, outlooks, today, (days[0], days[-1])) if not _of_a_date(view, task)]
    made = []
    for day in days:
        on = day.isoformat()
        told = [task for task in tasks if _turns(task, on)]
        if told:
            code, name = _said(view, told)
            at_ms = starts_ms(on, farm.zone) + TASKS_AT_H * HOUR_MS
            made.append(Clock("task", code, "", name, at_ms, f"tasks|{on}"))
    return made


def _of_a_date(view: Mapping[str, Any], task: Mapping[str, Any]) -> bool:
    """Told under its own words: clocks.py."""
    own = view["own_tasks"].get(task["task"])
    return bool(own) and own["f"].get("anchor") == "date"


def _turns(task: Mapping[str, Any], on: str) -> bool:
    """Its first day; and its last, unless it is a watch that is over by itself."""
    return bool(task["from"] == on or (task["to"] == on and task["late_d"]))


def _name(view: Mapping[str, Any], subject: str) -> str:
    """A kid without a name goes by its dam's, in whatever language it is said."""
    kid = view["kids"].get(subject, {"f": {}})["f"]
    doe = view["does"].get(kid.get("dam", subject), {"f": {}})["f"]
    return str(kid.get("name") or doe.get("name", ""))


def _said(view: Mapping[str, Any], told: list[dict[str, Any]]) -> tuple[str, str]:
    """A code that has words, and whose name stands with it."""
    names = sorted({name for task in told if (name := _name(view, task["subject"]))})
    who = ", ".join(names[:NAMED]) + (f" +{len(names) - NAMED}" if len(names) > NAMED else "")
    if len({task["task"] for task in told}) > 1:
        return (MANY, who) if who else (OF_HERD, "")
    own = view["own_tasks"].get(told[0]["task"])
    if own:
        return TASK, str(own["f"].get("title", ""))
    return f"{TASK}.{told[0]['task']}", who
