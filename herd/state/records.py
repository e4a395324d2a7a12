"""Record fields: the write with the greatest stamp wins; where a wrong winner can hurt, a question is raised."""

from __future__ import annotations

from typing import Any

from .order import Event, mapping, text

HIGH_STAKES = {
    "doe": {"tag", "size", "born_on", "mature_kg", "growing", "kiddings_before", "fat_x100", "sex"},
    "pen": set[str](),
    "feed": set[str](),
    "lot": {"feed"},
    "contact": set[str](),
    "shelf": {"told"},
    "scoop": {"feed"},
    "jar": set[str](),
    "pack": set[str](),
    "rules": None,  # every herd rule steers feeding
}
SILENT_RULES = {"units", "flake_word"}


def write_record(record: dict[str, Any], event: Event, questions: dict[str, Any]) -> None:
    """Apply one record write to {"f": values, "stamp": stamps, "by": event ids}, writes arriving in stamp order."""
    base = mapping(event["data"], "base")
    for field, value in mapping(event["data"], "f").items():
        held, stamp = record["f"].get(field), record["stamp"].get(field, "")
        key = f"field|{event['subject']}|{field}"
        if stamp and text(base, field) != stamp and not _same(held, value) and _hurts(event["kind"], field):
            values = [_side(held, stamp, record["by"][field]), _side(value, event["hlc"], event["id"])]
            questions[key] = {"kind": "field", "subject": event["subject"], "field": field, "values": values}
        elif text(base, field) == stamp:
            questions.pop(key, None)
        record["f"][field], record["stamp"][field], record["by"][field] = value, event["hlc"], event["id"]


def _hurts(kind: str, field: str) -> bool:
    fields = HIGH_STAKES.get(kind)
    return field not in SILENT_RULES if fields is None else field in fields


def _same(held: Any, value: Any) -> bool:
    """Yes is not 1, as in the other language."""
    return type(held) is type(value) and bool(held == value)


def _side(value: Any, stamp: str, event_id: str) -> dict[str, Any]:
    return {"value": value, "stamp": stamp, "ev": event_id}
