"""A farm's year as an iCalendar file (RFC 5545): when each doe may kid, and what is to be done. No names of people.

What is due is asked of the client's own code in the embedded engine, so that a calendar says what a phone says.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, date, datetime, timedelta
from typing import Any

from icalendar import Calendar, Event

from herd.models import Event as Entry
from herd.models import Farm, OutlookRow
from herd.models.event import OK
from herd.models.folded import BOOK, CARD, YEARS
from herd.state.fold import fold
from herd.state.kinds import CHAINS, RECORDS

from .calendar_words import say
from .clock import day_of, now_ms
from .wire import decode, digest, replay
from .year_tasks import does_of, name_of, tasks_of

View = dict[str, Any]
BACK_D, AHEAD_D = 45, 400
KINDS = (*(kind for kind in RECORDS if kind != "doe"), "task")
AGAIN = timedelta(hours=6)


def feed(farm: Farm, language: str, today: date | None = None) -> bytes:
    """Lines of at most 75 octets that end in CRLF, as the package writes them."""
    today = today or day_of(now_ms(), farm.zone)
    view = _view(farm)
    rows = OutlookRow.objects.filter(farm=farm).exclude(doe__in=(BOOK, CARD, YEARS))
    outlooks = {doe: decode(doc) for doe, doc in rows.values_list("doe", "doc")}
    calendar = Calendar()
    calendar.add("prodid", "-//Mangerline//The year of a herd//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", farm.name)
    calendar.add("x-wr-timezone", farm.zone)
    calendar.add("refresh-interval", AGAIN, parameters={"value": "DURATION"})
    for event in (*_due(farm, view, outlooks, language, today), *_tasks(farm, view, outlooks, language, today)):
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _view(farm: Farm) -> View:
    """Does as they are kept folded; of the rest only what a task looks at."""
    rows = Entry.objects.filter(farm=farm, fold_status=OK)
    parts = (rows.filter(kind__in=KINDS), rows.filter(kind__in=CHAINS, form__in=KINDS))
    view = fold([replay(raw, eff) for part in parts for raw, eff in part.values_list("raw", "eff")])
    return {**view, "does": does_of(farm)}


def _due(farm: Farm, view: View, outlooks: View, language: str, today: date) -> Iterator[Event]:
    """The days a doe may kid on, and the middle one."""
    for doe_id, doe in view["does"].items():
        due = outlooks.get(doe_id, {}).get("due")
        if not due or not doe["bred"] or doe["left_on"] or due["late"] < (today - timedelta(days=BACK_D)).isoformat():
            continue
        # her next kidding, whatever day she is said to have been bred on
        name, key = str(doe["f"].get("name", "")), str(doe["kiddings"])
        window = (due["early"], due["late"])
        why = say(language, "cal.feed.due.why")
        yield _event(_uid(farm, doe_id, "due", key), say(language, "cal.feed.due", name=name), window, why)
        mid = (due["mid"], due["mid"])
        yield _event(_uid(farm, doe_id, "due_mid", key), say(language, "cal.feed.mid", name=name), mid, why)


def _tasks(farm: Farm, view: View, outlooks: View, language: str, today: date) -> Iterator[Event]:
    span = today - timedelta(days=BACK_D), today + timedelta(days=AHEAD_D)
    for task in tasks_of(view, outlooks, today, span):
        title, why = _said(view, language, task["task"])
        whose = name_of(view, language, task["subject"])
        summary = say(language, "cal.feed.of", name=whose, task=title) if whose else title
        uid = _uid(farm, task["subject"], task["task"], task["turn"])
        yield _event(uid, summary, (task["from"], task["to"]), why)


def _said(view: View, language: str, task: str) -> tuple[str, str]:
    own = view["own_tasks"].get(task)
    if own:
        return str(own["f"].get("title", "")), ""
    return say(language, f"task.{task}"), say(language, f"task.{task}.why")


def _uid(farm: Farm, *parts: str) -> str:
    """The same as long as it is the same thing, however often documents are made anew."""
    return f"{digest(' '.join((farm.pk, *parts)))[:32]}@mangerline"


def _event(uid: str, summary: str, days: tuple[str, str], why: str) -> Event:
    """Whole days of the farm: their end is the day after, whatever the clocks do between them."""
    event = Event()
    event.add("uid", uid)
    event.add("dtstamp", datetime.now(UTC))
    event.add("dtstart", date.fromisoformat(days[0]))
    event.add("dtend", date.fromisoformat(days[1]) + timedelta(days=1))
    event.add("summary", summary)
    if why:
        event.add("description", why)
    event.add("transp", "TRANSPARENT")
    return event
