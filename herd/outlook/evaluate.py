"""What a phone would say of a farm on a day. The evaluator is the client's own, frontend/src/core/outlook."""

from __future__ import annotations

import os
from collections.abc import Mapping
from itertools import count
from typing import Any

import msgspec

from . import engine

_numbers = count()
_encode, _decode = msgspec.json.Encoder().encode, msgspec.json.Decoder().decode


def evaluate(view: Mapping[str, Any], outlooks: Mapping[str, Any], book: Mapping[str, Any], day: str) -> dict[str, Any]:
    """{"does": {id: result}, "pens": {id: {"prompt"}}} for every doe still in the herd on a date."""
    results: dict[str, Any] = FarmDay(view, outlooks, book, day).ask("results")
    return results


class FarmDay:
    """A farm on a day, opened in the engine at the first question: what changes in it afterwards is not seen."""

    def __init__(self, view: Mapping[str, Any], outlooks: Mapping[str, Any], book: Mapping[str, Any], day: str) -> None:
        self.view, self.outlooks, self.book, self.day = view, outlooks, book, day
        self.rules: Mapping[str, int] = book["rules"]
        self.key = ""

    def ask(self, name: str, *given: Any) -> Any:
        """One of the questions of frontend/src/core/outlook/questions.ts, by name, with what it takes."""
        question = _encode([name, *given]).decode()
        said = _decode(engine.ask(self.key, question, "")) if self.key else {"closed": True}
        if "closed" in said:
            # not opened yet, or others have made it leave since
            self.key = f"{os.getpid()}-{next(_numbers)}"
            farm = _encode([self.view, self.outlooks, self.book, self.day]).decode()
            said = _decode(engine.ask(self.key, question, farm))
        if "error" in said:
            raise engine.EngineError(said["error"])
        return said["answer"]

    def feed(self, feed_id: str) -> dict[str, Any]:
        """A feed's composition per kg dry matter: a lot's own, or of the feed it is a lot of; empty when unknown."""
        return self.ask("feed", feed_id) or {}
