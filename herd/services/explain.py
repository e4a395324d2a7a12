"""What an explanation is worked from: the farm as its phones see it on a date, with every doe's outlook."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from herd.models import Event, Farm, Folded, OutlookRow
from herd.models.event import OK
from herd.models.folded import BOOK, CARD, YEARS
from herd.outlook.evaluate import FarmDay
from herd.outlook.explain.report import report
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from herd.state.kinds import CHAINS, SHAPES_OUTLOOK
from herd.state.order import Event as Log

from .clock import day_of, now_ms
from .recompile import recompile
from .science import compile_book, compile_doe
from .wire import decode, replay


class NoSuchDoe(LookupError):
    """No doe, or more than one, goes by that name: the message says which there are."""


@dataclass(frozen=True, slots=True)
class Found:
    farm: Farm
    doe_id: str
    name: str


def find_doe(asked: str) -> Found:
    """A doe of any farm by her name or id."""
    does = [
        Found(row.farm, row.subject, str(decode(row.json)["f"].get("name", "")))
        for row in Folded.objects.filter(kind="doe").select_related("farm")
    ]
    hits = [doe for doe in does if asked == doe.doe_id or asked.casefold() == doe.name.casefold()]
    if len(hits) != 1:
        named = hits or does
        told = ", ".join(f"{doe.name} ({doe.farm.name}, {doe.doe_id})" for doe in named)
        raise NoSuchDoe(f"{'Several does are' if hits else 'No doe is'} called {asked}. There are: {told or 'none'}.")
    return hits[0]


def explain(found: Found, on: date | None, nutrient: str) -> list[str]:
    """The whole chain as lines of text. For today from the very outlooks the phones hold, else as of that day."""
    today = day_of(now_ms(), found.farm.zone)
    day = on or today
    log = _log(found.farm, day.isoformat())
    view = fold(log)
    if found.doe_id not in view["does"]:
        raise NoSuchDoe(f"{found.name} was not yet recorded on {day}.")
    shaped = fold([event for event in log if event.get("kind") in (*SHAPES_OUTLOOK, *CHAINS)])
    outlooks = _stored(found.farm) if day == today else _compiled(shaped, day)
    book = outlooks.pop(BOOK, None) or compile_book(view)
    fields = view["rules"]["f"]
    on_day = FarmDay(view, outlooks, book, day.isoformat())
    return report(on_day, found.doe_id, shaped["does"][found.doe_id], {**fields, **rules_of(fields)}, nutrient)


def _log(farm: Farm, until: str) -> list[Log]:
    rows = Event.objects.filter(farm=farm, fold_status=OK, on__lte=until).order_by("seq")
    return [replay(raw, eff) for raw, eff in rows.values_list("raw", "eff")]


def _stored(farm: Farm) -> dict[str, Any]:
    recompile(farm.id)
    return {row.doe: decode(row.doc) for row in OutlookRow.objects.filter(farm=farm).exclude(doe__in=(CARD, YEARS))}


def _compiled(shaped: dict[str, Any], day: date) -> dict[str, Any]:
    fields = shaped["rules"]["f"]
    rules = {**fields, **rules_of(fields)}
    return {doe_id: compile_doe(doe, rules, day, doe_id) for doe_id, doe in shaped["does"].items()}
