"""Straight to the service, without HTTP: record a phone's events, read the log back as a phone would fold it."""

from __future__ import annotations

import json
from typing import Any

from herd.models import Event, Farm, Folded, OutlookRow
from herd.services.clock import now_ms
from herd.services.record_events import Batch, record_events
from herd.services.wire import decode, replay
from tests.phones import Phone


def record(
    phone: Phone, *events: Any, now: int | None = None, role: str = "owner", **more: Any
) -> list[dict[str, Any]]:
    now = now or now_ms()
    raw = [json.dumps(event).encode() for event in events]
    phone_ms = now + phone.fast_ms
    return record_events(Batch(phone.farm.id, phone.person.pk, role, phone.device, phone_ms, raw, now=now, **more))


def replayed(farm: Farm, **only: Any) -> list[dict[str, Any]]:
    rows = Event.objects.filter(farm=farm, **only).order_by("seq")
    return [replay(raw, eff) for raw, eff in rows.values_list("raw", "eff")]


def folded(farm: Farm) -> dict[tuple[str, str], Any]:
    return {(row.subject, row.kind): decode(row.json) for row in Folded.objects.filter(farm=farm)}


def outlooks(farm: Farm) -> dict[str, dict[str, Any]]:
    return {row.doe: decode(row.doc) for row in OutlookRow.objects.filter(farm=farm)}
