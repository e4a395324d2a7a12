"""Old payloads are read in today's form; what was recorded is never rewritten."""

from __future__ import annotations

from typing import Any

from .kinds import KINDS

Data = dict[str, Any]
GRAMS_PER_TENTH_KG = 100


def upcast(event: dict[str, Any]) -> dict[str, Any]:
    """The event in the newest version of its kind; unknown kinds and newest versions come back as they are."""
    kind, version = event["kind"], event["v"]
    if kind == "correct":
        return _correction(event)
    if kind == "weight" and version == 1:
        return {**event, "v": KINDS["weight"].newest, "data": weight_2(event["data"])}
    return event


def weight_2(old: Data) -> Data:
    """Weight 1 held tenths of a kilogram and nothing about how; scales were the only way then."""
    return {"g": old["kg_x10"] * GRAMS_PER_TENTH_KG, "how": "scale", "girth_mm": 0, "length_mm": 0}


def _correction(event: dict[str, Any]) -> dict[str, Any]:
    """A correction does not say which version its content is in; the old form is known by its own field."""
    content = event["data"].get("data")
    if isinstance(content, dict) and isinstance(content.get("kg_x10"), int):
        return {**event, "data": {**event["data"], "data": weight_2(content)}}
    return event
