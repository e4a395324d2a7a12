"""What is new on a farm since a cursor: rows up to the farm's own counters only, so nothing is jumped over."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import msgspec

from herd.models import Event, Farm, OutlookRow, Ruling
from herd.models.event import REFUSED
from herd.models.folded import BOOK

from .adviser_view import AdviserView
from .clock import now_ms
from .cursor_marks import mark_of
from .receipts import receipt
from .recompile import due_today
from .versions import MIN_APP

PAGE = 500
OUTLOOKS_A_PAGE = 25
Page = dict[str, Any]
ROW = ("seq", "fold_status", "eff", "raw", "id", "sha256", "author", "role")


@dataclass(frozen=True, slots=True)
class Cursor:
    seq: int = 0
    outlook_rev: int = 0


def as_sent(farm_id: str, reader: str, row: tuple[Any, ...]) -> dict[str, Any]:
    """One event with the phone's own text inside, byte for byte; its receipt for whoever recorded it."""
    seq, status, eff, raw, event_id, sha256, author, role = row
    sent = {"seq": seq, "st": status, "eff": raw_json(eff) if eff else None, "ev": raw_json(raw)}
    if author == reader:
        sent["receipt"] = receipt(farm_id, event_id, sha256, author, role, eff)
    return sent


def raw_json(text: str) -> msgspec.Raw:
    return msgspec.Raw(text.encode())


def changes(farm: Farm, since: Cursor, limit: int = PAGE, reader: str = "", only: AdviserView | None = None) -> Page:
    """`farm` must have been read before this is called: its counters are the end of the page."""
    events = _events(farm, since.seq, limit)
    # A phone ahead of our outlooks has seen ones that a restore took away: it gets them all.
    held = since.outlook_rev if since.outlook_rev <= farm.outlook_rev else 0
    outlooks = outlook_docs(farm, held, OUTLOOKS_A_PAGE, only)
    seq = events[-1][0] if events else since.seq
    rev = outlooks[-1][0] if len(outlooks) == OUTLOOKS_A_PAGE else farm.outlook_rev
    again = _restated(farm, since.seq, held)
    if only:
        events, again = only.cut(events), only.shown(again)
    return {
        "epoch": farm.epoch,
        "events": with_reasons(farm, reader, events),
        **({"again": with_reasons(farm, reader, again)} if again else {}),
        "outlooks": [raw_json(doc) for _, doc in outlooks],
        "seq": seq,
        "outlook_rev": rev,
        "signed": mark_of(farm.id, farm.epoch, seq, rev),
        "more": seq < farm.seq or rev < farm.outlook_rev,
        "outlooks_due": due_today(farm),
        "now": now_ms(),
        "min_app": MIN_APP,
    }


def with_reasons(farm: Farm, reader: str, rows: list[tuple[Any, ...]]) -> list[dict[str, Any]]:
    """What was refused goes out with the rest, for the count has no gaps: with its reason, and folded by nobody."""
    sent = [as_sent(farm.id, reader, row) for row in rows]
    refused = [one["seq"] for one in sent if one["st"] == REFUSED]
    reasons = Ruling.objects.filter(farm=farm, seq__in=refused) if refused else Ruling.objects.none()
    why = {seq: {"code": code, "why": text} for seq, code, text in reasons.values_list("seq", "code", "why")}
    return [{**one, **why.get(one["seq"], {})} for one in sent]


def _restated(farm: Farm, seq: int, rev: int) -> list[tuple[Any, ...]]:
    """Entries a phone has that count no more since it heard last, or count again."""
    if rev >= farm.outlook_rev:
        return []
    said = Ruling.objects.filter(farm=farm, rev__gt=rev, rev__lte=farm.outlook_rev, seq__lte=seq)
    seqs = list(said.values_list("seq", flat=True))
    return list(Event.objects.filter(farm=farm, seq__in=seqs).order_by("seq").values_list(*ROW)) if seqs else []


def _events(farm: Farm, seq: int, limit: int) -> list[tuple[Any, ...]]:
    if seq >= farm.seq:
        return []
    rows = Event.objects.filter(farm_id=farm.id, seq__gt=seq, seq__lte=farm.seq).order_by("seq")
    return list(rows.values_list(*ROW)[:limit])


def outlook_docs(
    farm: Farm, rev: int, limit: int | None = None, only: AdviserView | None = None
) -> list[tuple[int, str]]:
    if rev >= farm.outlook_rev:
        return []
    rows = OutlookRow.objects.filter(farm_id=farm.id, rev__gt=rev, rev__lte=farm.outlook_rev).order_by("rev")
    rows = rows.filter(doe__in=[BOOK, *only.does]) if only else rows
    return list(rows.values_list("rev", "doc")[:limit])
