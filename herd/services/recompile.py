"""Outlooks made from folded rows, lazily: when her state changed, after seven days, or for another science version.
The herd's card comes along, on the first day after a feeding.

Compiling stays outside the lock on the farm; what changed meanwhile is left for the next turn. No request waits for
it: the worker (herd/services/work.py) takes a farm for a turn of so many does.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from herd.models import Farm, Folded, OutlookRow
from herd.models.folded import BOOK, CARD, YEARS
from herd.outlook.shapes import Document
from herd.state.fold import fold

from . import due as dates
from .clock import day_of, now_ms
from .herd_card import card_inputs, card_of
from .science import compile_book, compile_doe, science_version
from .wire import canonical, decode, digest

log = logging.getLogger(__name__)
FRESH_DAYS = 7
MOVES_WITH_THE_DAY = ("rev", "compiled_on")
# Parts of the years' document that outlooks go by.
LEARNED = ("signs", "lengths")


@dataclass(frozen=True, slots=True)
class Compiled:
    doe: str
    doc: Document | None
    inputs_sha256: str


@dataclass(slots=True)
class Turn:
    """What was made, of which folded rows, and whether more is left to make."""

    made: list[Compiled] = field(default_factory=list)
    seen: dict[tuple[str, str], str] = field(default_factory=dict)
    more: bool = False


def due(farm: Farm, today: date) -> bool:
    return farm.outlooks_due_on <= today.isoformat() or farm.science != science_version()


def due_today(farm: Farm) -> bool:
    """Whether outlooks are on their way: whoever asks should ask again soon."""
    return due(farm, day_of(now_ms(), farm.zone))


def recompile(farm_id: str, today: date | None = None, most: int | None = None) -> int:
    """Bring a farm's outlooks up to date, or `most` of its does. Returns how many documents changed."""
    farm = Farm.objects.get(pk=farm_id)
    today = today or day_of(now_ms(), farm.zone)
    if not due(farm, today):
        return 0
    folded = list(Folded.objects.filter(farm=farm).defer("tail"))
    held = {row.doe: row for row in OutlookRow.objects.filter(farm=farm).defer("doc")}
    return _store(farm_id, _turn(farm, folded, held, today, most), today)


def _turn(farm: Farm, folded: list[Folded], held: dict[str, OutlookRow], today: date, most: int | None) -> Turn:
    wanted = _wanted_does(folded, held, today)
    now = wanted[:most]
    turn = Turn(more=len(now) < len(wanted))
    if farm.science != science_version() and not turn.more:
        now += [part for part in folded if part.kind == "doe" and not part.stale and part.subject not in held]
    years = _years(held)
    turn.made = [*_book(folded, held, years), *_does(now, folded, held, today, years)]
    if not turn.more:
        turn.made += _card(farm, held, today)
    turn.seen = {(row.subject, row.kind): row.json for row in (*now, *(one for one in folded if one.kind != "doe"))}
    return turn


def _years(held: dict[str, OutlookRow]) -> dict[str, Any]:
    """Of the document of the farm's years what an outlook is made from: what its own kiddings have taught."""
    row = held.get(YEARS)
    doc = decode(row.doc) if row else {}
    return {part: [one for one in doc.get(part, ()) if one["enough"]] for part in LEARNED}


def _book(folded: list[Folded], held: dict[str, OutlookRow], years: dict[str, Any]) -> list[Compiled]:
    parts = [row for row in folded if row.kind != "doe"]
    row = held.get(BOOK)
    if row and row.science == science_version() and not any(part.stale for part in parts):
        return []
    view = fold([])
    for part in parts:
        if part.kind == "rules":
            view["rules"] = decode(part.json)
        else:
            view[f"{part.kind}s"][part.subject] = decode(part.json)
    inputs = canonical([view, years["signs"]])
    return [_compiled(BOOK, inputs, row, lambda: compile_book(view, years))]


def _card(farm: Farm, held: dict[str, OutlookRow], today: date) -> list[Compiled]:
    view = card_inputs(farm, today)
    if not (view["feedings"] or view["water"]):
        return []
    row, inputs = held.get(CARD), canonical([today.isoformat(), view])
    return [_compiled(CARD, inputs, row, lambda: card_of(view, today))]


def _wanted_does(folded: list[Folded], held: dict[str, OutlookRow], today: date) -> list[Folded]:
    """Those of whom something was recorded before those whose outlook only grew old."""
    oldest = (today - timedelta(days=FRESH_DAYS)).isoformat()
    does = [part for part in folded if part.kind == "doe" and _wanted(part, held.get(part.subject), oldest)]
    return sorted(does, key=lambda part: not part.stale)


def _does(
    wanted: list[Folded], folded: list[Folded], held: dict[str, OutlookRow], today: date, years: dict[str, Any]
) -> list[Compiled]:
    rules: dict[str, Any] = next((decode(row.json)["f"] for row in folded if row.kind == "rules"), {})
    made = []
    for part in wanted:
        inputs = canonical([today.isoformat(), rules, part.json, years["lengths"]])
        made.append(_compiled(part.subject, inputs, held.get(part.subject), _doe_job(part, rules, today, years)))
    return made


def _doe_job(part: Folded, rules: dict[str, Any], today: date, years: dict[str, Any]) -> Callable[[], Document]:
    return lambda: compile_doe(decode(part.json), rules, today, part.subject, years)


def _wanted(part: Folded, row: OutlookRow | None, oldest: str) -> bool:
    """One the compiler stumbled over has no outlook, and is tried again when something of hers or of ours changes."""
    if part.stale or row is None:
        return part.stale
    return (row.compiled_on <= oldest or row.science != science_version()) and not _left(part)


def _left(part: Folded) -> bool:
    return bool(decode(part.json)["left_on"])


def _compiled(doe: str, inputs: str, row: OutlookRow | None, job: Callable[[], Document | None]) -> Compiled:
    sha = digest(science_version() + inputs)
    if row and row.inputs_sha256 == sha:
        return Compiled(doe, None, sha)
    try:
        return Compiled(doe, job(), sha)
    except Exception:
        # One doe the compiler stumbles over must not keep the others, or anybody's entries, from going out.
        log.exception("No outlook for %s", doe or "the book")
        return Compiled(doe, None, sha)


@transaction.atomic
def _store(farm_id: str, turn: Turn, today: date) -> int:
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    moved, new_parts = _moved(farm_id, turn.seen)
    kept = [] if new_parts else [one for one in turn.made if one.doe not in moved]
    changed = write(farm, kept, today)
    if not new_parts:
        _fresh(farm_id, {key for key in turn.seen if key[0] not in moved})
    if turn.more or Folded.objects.filter(farm=farm, stale=True).exists():
        farm.work_at_ms = dates.NOT_YET
        dates.set_due(farm)
    else:
        dates.set_due(farm, _next_due(farm))
        farm.science = science_version()
    farm.lease_until_ms = 0
    farm.tell_at_ms = now_ms()
    farm.save(update_fields=["outlook_rev", "science", "lease_until_ms", "tell_at_ms", *dates.FIELDS])
    return changed


def _moved(farm_id: str, seen: dict[tuple[str, str], str]) -> tuple[set[str], bool]:
    """Subjects folded anew meanwhile; and whether what all does hang on is among them, the farm's rules or feeds."""
    rows = Folded.objects.filter(farm_id=farm_id, subject__in={subject for subject, _ in seen})
    now = {(subject, kind): json for subject, kind, json in rows.values_list("subject", "kind", "json")}
    parts = Folded.objects.filter(farm_id=farm_id).exclude(kind="doe").values_list("subject", "kind")
    known = {key for key in seen if key[1] != "doe"}
    differ = {key for key in seen if now.get(key) != seen[key]} | (set(parts) ^ known)
    return {subject for subject, _ in differ}, any(kind != "doe" for _, kind in differ)


def _fresh(farm_id: str, done: set[tuple[str, str]]) -> None:
    does = {subject for subject, kind in done if kind == "doe"}
    rows = Folded.objects.filter(farm_id=farm_id, stale=True)
    rows.filter(kind="doe", subject__in=does).update(stale=False)
    rows.exclude(kind="doe").update(stale=False)


def write(farm: Farm, made: list[Compiled], today: date) -> int:
    """Those that changed, each under a number of its own. The farm row must be locked, and its count saved after."""
    held = dict(OutlookRow.objects.filter(farm=farm).values_list("doe", "doc_sha256"))
    fresh = []
    for one in made:
        same = one.doc is None or digest(_content(one.doc)) == held.get(one.doe)
        if same:
            OutlookRow.objects.filter(farm=farm, doe=one.doe).update(
                inputs_sha256=one.inputs_sha256, science=science_version(), compiled_on=today.isoformat()
            )
        elif one.doc is not None:
            farm.outlook_rev += 1
            fresh.append(_row(farm, one, one.doc, today))
    fields = ["rev", "doc", "doc_sha256", "inputs_sha256", "science", "compiled_on"]
    OutlookRow.objects.bulk_create(
        fresh, update_conflicts=True, unique_fields=["farm", "doe"], update_fields=fields, batch_size=50
    )
    return len(fresh)


def _row(farm: Farm, one: Compiled, doc: Document, today: date) -> OutlookRow:
    return OutlookRow(
        farm=farm,
        doe=one.doe,
        rev=farm.outlook_rev,
        doc=canonical({**doc, "rev": farm.outlook_rev}),
        doc_sha256=digest(_content(doc)),
        inputs_sha256=one.inputs_sha256,
        science=science_version(),
        compiled_on=today.isoformat(),
    )


def _content(doc: Document) -> str:
    return canonical({key: value for key, value in doc.items() if key not in MOVES_WITH_THE_DAY})


def _next_due(farm: Farm) -> str:
    rows = Folded.objects.filter(farm=farm, kind="doe").defer("tail")
    living = [row.subject for row in rows if not _left(row)]
    made = OutlookRow.objects.filter(farm=farm, doe__in=living).values_list("compiled_on", flat=True)
    return (date.fromisoformat(min(made)) + timedelta(days=FRESH_DAYS)).isoformat() if made else dates.NEVER
