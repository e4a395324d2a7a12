"""Bugs of the server that the client's protocol tests must find: one at a time, by the name in a file beside the data.

The file is looked at in every call, so that neither the server nor the hand behind it is started anew for each.
"""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

from django.conf import settings

from herd.models import Farm, Membership
from herd.models.farm import OWNER
from herd.services import record_events, set_aside
from herd.services.for_the_owner import FOR_THE_OWNER
from herd.services.record_events import Answer, Batch

HANDED_IN, LET_IN, NAMED = "handed_in_not_kept", "let_in_not_recorded", "let_in_as_the_owner"


def planted() -> str:
    file = Path(settings.DATABASES["default"]["NAME"]).parent / "planted"
    return file.read_text() if file.exists() else ""


def plant() -> None:
    keep, record = record_events.keep_refused, set_aside.record_events

    def not_kept(rows: list[Any]) -> set[str]:
        kept = keep([row for row in rows if row.code not in FOR_THE_OWNER] if planted() == HANDED_IN else rows)
        return {row.sha256 for row in rows} if planted() == HANDED_IN else kept

    def let_in(batch: Batch) -> list[Answer]:
        if planted() == LET_IN:
            return [{"st": "ok"}]
        return record(as_owner(batch) if planted() == NAMED else batch)

    record_events.keep_refused = not_kept  # type: ignore[attr-defined]
    set_aside.record_events = let_in  # type: ignore[attr-defined]


def as_owner(batch: Batch) -> Batch:
    owner = Membership.objects.filter(farm=Farm.objects.get(pk=batch.farm_id), role=OWNER).first()
    by = owner.person_id if owner else batch.person_id
    events = [json.dumps({**json.loads(raw), "author": by}).encode() for raw in batch.events]
    return replace(batch, person_id=by, role=OWNER, events=events)
