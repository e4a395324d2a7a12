"""Outlooks made from folded rows, lazily: when her state changed, after seven days, or for another science version.
The herd's card comes along, on the first day after a feeding.

Compiling stays outside the lock on the farm; what changed meanwhile is left for the next turn.
"""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db import transaction

from herd.models import Farm, Folded, OutlookRow
from herd.models.folded import BOOK, CARD
from herd.outlook.shapes import Document
from herd.state.fold import fold

from .clock import day_of, now_ms
from .herd_card import card_inputs, card_of
from .science import compile_book, compile_doe, science_version
from .wire import canonical, decode, digest

log = logging.getLogger(__name__)
FRESH_DAYS = 7
NEVER = "9999-12-31"
MOVES_WITH_THE_DAY = ("rev", "compiled_on")


@dataclass(frozen=True, slots=True)
class Compiled:
    doe: str
    doc: Document | None
    inputs_sha256: str


def due(farm: Farm, today: date) -> bool:
    return farm.outlooks_due_on <= today.isoformat() or farm.science != science_version()


def refresh(farm: Farm) -> Farm:
    """The farm as it is now, its outlooks brought up to date first if they are due. No query when nothing is."""
    if due(farm, day_of(now_ms(), farm.zone)):
        recompile(farm.id)
        return Farm.objects.get(pk=farm.id)
    return farm


def recompile(farm_id: str, today: date | None = None) -> int:
    """Bring a farm's outlooks up to date. Returns how many documents changed."""
    farm = Farm.objects.get(pk=farm_id)
    today = today or day_of(now_ms(), farm.zone)
    if not due(farm, today):
        return 0
    folded = list(Folded.objects.filter(farm=farm))
    held = {row.doe: row for row in OutlookRow.objects.filter(farm=farm).defer("doc")}
    made = [*_book(folded, held), *_does(folded, held, today), *_card(farm, held, today)]
    return _store(farm_id, made, {(row.subject, row.kind): row.json for row in folded}, today)


def _book(folded: list[Folded], held: dict[str, OutlookRow]) -> list[Compiled]:
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
    return [_compiled(BOOK, canonical(view), row, lambda: compile_book(view))]


def _card(farm: Farm, held: dict[str, OutlookRow], today: date) -> list[Compiled]:
    view = card_inputs(farm, today)
    if not (view["feedings"] or view["water"]):
        return []
    row, inputs = held.get(CARD), canonical([today.isoformat(), view])
    return [_compiled(CARD, inputs, row, lambda: card_of(view, today))]


def _does(folded: list[Folded], held: dict[str, OutlookRow], today: date) -> list[Compiled]:
    rules: dict[str, Any] = next((decode(row.json)["f"] for row in folded if row.kind == "rules"), {})
    oldest = (today - timedelta(days=FRESH_DAYS)).isoformat()
    made = []
    for part in folded:
        if part.kind == "doe" and _wanted(part, held.get(part.subject), oldest):
            inputs = canonical([today.isoformat(), rules, part.json])
            made.append(_compiled(part.subject, inputs, held.get(part.subject), _doe_job(part, rules, today)))
    return made


def _doe_job(part: Folded, rules: dict[str, Any], today: date) -> Callable[[], Document]:
    return lambda: compile_doe(decode(part.json), rules, today, part.subject)


def _wanted(part: Folded, row: OutlookRow | None, oldest: str) -> bool:
    if part.stale or row is None:
        return True
    return not _left(part) and (row.compiled_on <= oldest or row.science != science_version())


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
def _store(farm_id: str, made: list[Compiled], seen: dict[tuple[str, str], str], today: date) -> int:
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    now = list(Folded.objects.filter(farm=farm))
    moved = {row.subject for row in now if seen.get((row.subject, row.kind)) != row.json}
    rules_moved = any(row.kind != "doe" and row.subject in moved for row in now)
    kept = [] if rules_moved else [one for one in made if one.doe not in moved]
    changed = _write(farm, kept, today)
    if not rules_moved:
        Folded.objects.filter(farm=farm, stale=True).exclude(subject__in=moved).update(stale=False)
    farm.outlooks_due_on = "" if moved else _next_due(farm, now)
    farm.science = science_version()
    farm.save(update_fields=["outlook_rev", "outlooks_due_on", "science"])
    return changed


def _write(farm: Farm, made: list[Compiled], today: date) -> int:
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


def _next_due(farm: Farm, folded: list[Folded]) -> str:
    living = [row.subject for row in folded if row.kind == "doe" and not _left(row)]
    dates = OutlookRow.objects.filter(farm=farm, doe__in=living).values_list("compiled_on", flat=True)
    return (date.fromisoformat(min(dates)) + timedelta(days=FRESH_DAYS)).isoformat() if dates else NEVER
