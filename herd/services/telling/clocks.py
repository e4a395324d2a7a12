"""What falls due on a farm, as the phones' own evaluator says it, and the tasks of its own list."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from herd.models import Event, Farm, OutlookRow
from herd.models.event import OK
from herd.models.folded import BOOK, CARD, YEARS
from herd.outlook.evaluate import FarmDay
from herd.state.fold import fold
from herd.state.kinds import CHAINS, RECORDS

from ..clock import day_of
from ..due import starts_ms
from ..science import compile_book
from ..wire import decode, replay
from ..year_tasks import does_of
from .clock import HOUR_MS, TASK, TASKS_AT_H, Clock
from .today import today_clocks

BACK_D = 16
STATES = ("bred", "preg_check", "moved", "dried_off", "kidded", "left_herd", "freeze")
SEEN = (
    "fed", "intake", "got_into", "udder", "signs", "checkup", "triage", "kid_look", "dam_look", "afterbirth"
)  # fmt: skip


def clocks_of(farm: Farm, now: int) -> list[Clock]:
    today = day_of(now, farm.zone)
    view = view_of(farm, today)
    rows = OutlookRow.objects.filter(farm=farm).exclude(doe__in=(CARD, YEARS))
    outlooks = {row.doe: decode(row.doc) for row in rows}
    book = outlooks.pop(BOOK, None) or compile_book(view)
    starts = starts_ms(today.isoformat(), farm.zone)
    found = FarmDay(view, outlooks, book, today.isoformat()).ask("clocks", now, starts) if view["does"] else []
    year = today_clocks(farm, {**view, "does": does_of(farm)}, outlooks, today)
    return [*(_of_doe(one, view) for one in found), *_tasks(farm, view, today), *year]


def view_of(farm: Farm, today: date) -> dict[str, Any]:
    """The farm without what no clock hangs on; each part by the index on kind and date."""
    since = (today - timedelta(days=BACK_D)).isoformat()
    rows = Event.objects.filter(farm=farm, fold_status=OK)
    parts = (
        rows.filter(kind__in=(*RECORDS, *STATES, "task")),
        rows.filter(kind__in=SEEN, on__gte=since),
        rows.filter(kind__in=CHAINS, form__in=(*RECORDS, *STATES, *SEEN, "task")),
    )
    return fold([replay(raw, eff) for part in parts for raw, eff in part.values_list("raw", "eff")])


def _of_doe(one: dict[str, Any], view: dict[str, Any]) -> Clock:
    name = str(view["does"][one["doe"]]["f"].get("name", ""))
    key = f"{one['code']}|{one['doe']}|{one['key_ms']}"
    return Clock(one["kind"], one["code"], one["doe"], name, one["at_ms"], key, one["urgent"], one["by"])


def _tasks(farm: Farm, view: dict[str, Any], today: date) -> list[Clock]:
    """Of the farm's own list, those that go by a date; in the morning of their first day."""
    made = []
    for task_id, task in view["own_tasks"].items():
        on = _due_on(task["f"], today)
        on = on and _moved(on, [row for row in view["tasks"] if row["task"] == task_id])
        if on:
            at_ms = starts_ms(on, farm.zone) + TASKS_AT_H * HOUR_MS
            name = str(task["f"].get("title", ""))
            made.append(Clock("task", TASK, task_id, name, at_ms, f"task|{task_id}|{on}"))
    return made


def _due_on(f: dict[str, Any], today: date) -> str:
    """The last time it fell due, or the first to come."""
    if f.get("gone") or f.get("anchor") != "date" or not f.get("date"):
        return ""
    first = date.fromisoformat(f["date"]) + timedelta(days=int(f.get("from_d") or 0))
    every = int(f.get("every_d") or 0)
    times = (today - first).days // every if every and today > first else 0
    return (first + timedelta(days=times * every)).isoformat()


def _moved(on: str, told: list[dict[str, Any]]) -> str:
    """Nothing where it is done or left out, the day it was moved to where it was."""
    last = max((row for row in told if row["on"] >= on), key=lambda row: row["happened"], default=None)
    if last is None or last["what"] == "open":
        return on
    return str(last["to_on"]) if last["what"] == "moved" else ""
