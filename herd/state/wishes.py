"""Rations wanted by somebody who may not set them: each waits until it is let in or declined."""

from __future__ import annotations

from typing import Any

from .order import Event, rows, text, whole
from .rations import clean_steps


def wishes_of(stamped: list[Event]) -> list[dict[str, Any]]:
    """Those not let in, in stamp order; one declined says by whom and with what word. Twin: core/state/wishes.ts."""
    let_in = {(event["subject"], text(event["data"], "wish")) for event in stamped if event["kind"] == "ration"}
    declined = {text(event["data"], "of"): event for event in stamped if event["kind"] == "decline"}
    wanted = [event for event in stamped if event["kind"] == "wish" and (_of(event), event["id"]) not in let_in]
    return [_wish(event, declined.get(event["id"])) for event in wanted if rows(event["data"], "steps")]


def _of(event: Event) -> str:
    """Whose ration it would be: hers or her feeder's, or that of the pen she is moved to for it."""
    return text(event["data"], "pen") or event["subject"]


def _wish(event: Event, answer: Event | None) -> dict[str, Any]:
    data = event["data"]
    said = answer and {"ev": answer["id"], "by": answer["author"], "word": text(answer["data"], "word")}
    return {
        "ev": event["id"],
        **{name: event[name] for name in ("subject", "on", "happened", "author")},
        **{name: text(data, name) for name in ("slot", "feed", "reason", "act", "of", "by_on", "pen")},
        **{name: whole(data, name) for name in ("from_pm", "to_pm")},
        "steps": clean_steps(rows(data, "steps")),
        "declined": said,
    }
