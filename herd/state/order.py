"""The two orders of events, and the values that count when a phone's clock was wrong."""

from __future__ import annotations

from typing import Any

Event = dict[str, Any]
MOST_EXACT = 2**53 - 1


def by_time(event: Event) -> tuple[int, str, str]:
    """Observations and state events: when it happened, then the clock stamp, then the id."""
    return (event["happened"], event["hlc"], event["id"])


def by_stamp(event: Event) -> tuple[str, str]:
    """Record fields, rations, voids and corrections: the clock stamp, then the id."""
    return (event["hlc"], event["id"])


def effective(event: Event, eff: dict[str, Any] | None) -> Event:
    """The event as it counts: values the server put right replace the phone's own."""
    return {**event, **eff} if eff else event


def content(event: Event) -> dict[str, Any]:
    """What an event says; nothing when that is no object."""
    return mapping(event, "data")


def whole(data: dict[str, Any], key: str) -> int:
    """An integer payload value that both languages hold exactly; anything else counts as 0."""
    value = data.get(key)
    return value if type(value) is int and -MOST_EXACT <= value <= MOST_EXACT else 0


def text(data: dict[str, Any], key: str) -> str:
    """A text payload value; anything else counts as empty."""
    value = data.get(key)
    return value if isinstance(value, str) else ""


def truth(data: dict[str, Any], key: str) -> bool:
    """A yes/no payload value; only a real true counts."""
    return data.get(key) is True


def rows(data: dict[str, Any], key: str) -> list[dict[str, Any]]:
    """A list of objects in a payload; anything else counts as empty."""
    value = data.get(key)
    return [item for item in value if isinstance(item, dict)] if isinstance(value, list) else []


def mapping(data: dict[str, Any], key: str) -> dict[str, Any]:
    """An object in a payload; anything else counts as empty."""
    value = data.get(key)
    return value if isinstance(value, dict) else {}
