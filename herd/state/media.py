"""Pictures and recordings, as the view keeps them: their marks; what they show travels by itself. Twin: media.ts."""

from __future__ import annotations

from typing import Any

from .order import Event, text, whole

KEPT = ("subject", "on", "happened", "author")


def picture_of(event: Event) -> dict[str, Any]:
    data = event["data"]
    found = {"ev": event["id"], **{name: event[name] for name in KEPT}}
    marks = {"what": text(data, "what"), "sha256": text(data, "sha256")}
    return {**found, **marks, "w": whole(data, "w"), "h": whole(data, "h")}


def voice_of(event: Event) -> dict[str, Any]:
    data = event["data"]
    found = {"ev": event["id"], **{name: event[name] for name in KEPT}}
    return {**found, "sha256": text(data, "sha256"), "ms": whole(data, "ms")}
