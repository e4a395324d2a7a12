"""Record fields: the write with the greatest stamp wins; where a wrong winner can hurt, a question is asked, and the
careful one of the two counts until somebody has chosen (tables/apart.toml)."""

from __future__ import annotations

from typing import Any

from .order import Event, mapping, text
from .tables import APART

LATER = "later"


def write_record(record: dict[str, Any], event: Event, questions: dict[str, Any]) -> None:
    """Apply one record write to {"f": values, "stamp": stamps, "by": event ids}, writes arriving in stamp order.

    The stamp is always the last write's: whoever writes in sight of it has seen both, and settles the question.
    """
    base = mapping(event["data"], "base")
    for field, value in mapping(event["data"], "f").items():
        held, stamp = record["f"].get(field), record["stamp"].get(field, "")
        key, careful = f"field|{event['subject']}|{field}", _careful(event["kind"], field)
        stays = False
        if careful and stamp and text(base, field) != stamp and not _same(held, value):
            values = [_side(held, stamp, record["by"][field]), _side(value, event["hlc"], event["id"])]
            questions[key] = {"kind": "field", "subject": event["subject"], "field": field, "values": values}
            stays = _is_more_careful(careful, held, value)
        elif text(base, field) == stamp:
            questions.pop(key, None)
        record["stamp"][field] = event["hlc"]
        if not stays:
            record["f"][field], record["by"][field] = value, event["id"]


def _careful(kind: str, field: str) -> str:
    """Which of two values is the careful one; "" where the wrong one hurts nobody."""
    every = APART["every_field"].get(kind)
    otherwise = LATER if every and field not in every["but"] else ""
    return str(APART["careful"].get(kind, {}).get(field, otherwise))


def _is_more_careful(careful: str, held: Any, value: Any) -> bool:
    if careful == LATER or type(held) is not type(value) or not isinstance(held, (bool, int, str)):
        return False
    return bool(held < value if careful == "less" else held > value)


def _same(held: Any, value: Any) -> bool:
    """Yes is not 1, as in the other language."""
    return type(held) is type(value) and bool(held == value)


def _side(value: Any, stamp: str, event_id: str) -> dict[str, Any]:
    return {"value": value, "stamp": stamp, "ev": event_id}
