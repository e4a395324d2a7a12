"""What is known of the year's tasks, of nights and of kids that grow, as the view keeps it. Twin: year.ts."""

from __future__ import annotations

from typing import Any

from .order import Event, text, whole

WHO = ("on", "happened", "author")


def kid_weight_of(event: Event) -> dict[str, Any]:
    found = {"ev": event["id"], "subject": event["subject"], **{name: event[name] for name in WHO}}
    return {**found, "g": whole(event["data"], "g")}


def kit_use_of(event: Event) -> dict[str, Any]:
    """So many of a thing of the kidding kit taken; `hlc` is the stamp it has beside those of its count."""
    found = {"ev": event["id"], "subject": event["subject"], **{name: event[name] for name in (*WHO, "hlc")}}
    return {**found, "n": whole(event["data"], "n")}


def task_of(event: Event) -> dict[str, Any]:
    """What became of a task: done, moved to a day, skipped, or open again."""
    found = {"ev": event["id"], "subject": event["subject"], **{name: event[name] for name in WHO}}
    return {**found, **{name: text(event["data"], name) for name in ("task", "key", "what", "to_on", "why")}}


def hand_over_of(event: Event) -> dict[str, Any]:
    """Who looks at night from then on, and the line that was left for her."""
    found = {"ev": event["id"], **{name: event[name] for name in WHO}}
    return {**found, **{name: text(event["data"], name) for name in ("to", "word")}}
