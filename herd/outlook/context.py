"""What an evaluation works from: the view, the outlooks, the book, the day, and small look-ups that are made once."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from herd.state.doe_state import pen_on

SLOTS = ("morning", "midday", "evening", "late")
NUTRIENTS = ("me", "cp", "ca", "p")
SCHEMA = 1


class Context:
    """The farm as known on one phone on one day. Holds no biology: every number comes from an outlook or the book."""

    def __init__(self, view: dict[str, Any], outlooks: dict[str, Any], book: dict[str, Any], day: str) -> None:
        self.view, self.outlooks, self.book, self.day = view, outlooks, book, day
        self.rules: dict[str, int] = book["rules"]
        self.feedings: dict[str, list[dict[str, Any]]] = {}
        self.intakes: dict[str, list[dict[str, Any]]] = {}
        for feeding in view["feedings"]:
            self.feedings.setdefault(feeding["on"], []).append(feeding)
        for intake in view["intakes"]:
            self.intakes.setdefault(intake["on"], []).append(intake)
        self.plans: dict[str, list[dict[str, Any]]] = {}
        for key in sorted(view["rations"]):
            self.plans.setdefault(view["rations"][key]["subject"], []).append(view["rations"][key])
        asked = [q for q in view["questions"] if q["kind"] == "ration"]
        self.asked = {q["field"]: [side["value"] for side in q["values"]] for q in asked}
        self.shares: dict[str, dict[str, Any]] = {}
        self.memo: dict[str, Any] = {}

    def here(self, doe_id: str) -> bool:
        """Still in the herd."""
        return not self.view["does"][doe_id]["left_on"]

    def pen_mates(self, pen: str, on: str) -> list[str]:
        """Does in a pen on a date, sorted by id."""
        does = self.view["does"]
        if pen in does:  # a doe in no pen is worked as a pen of her own
            return [pen]
        return sorted(d for d in does if pen and pen_on(does[d], on) == pen and not _gone(does[d], on))

    def feed(self, feed_id: str) -> dict[str, Any] | None:
        """A feed's composition per kg dry matter: the lot's own, or the feed it is a lot of, or None when unknown."""
        feeds: dict[str, dict[str, Any]] = self.book["feeds"]
        if feed_id in feeds:
            return feeds[feed_id]
        lot = self.view["lots"].get(feed_id) or self.view["feeds"].get(feed_id)
        like = (lot["f"].get("feed") or lot["f"].get("like") or "") if lot else ""
        return feeds.get(like)


def _gone(doe: dict[str, Any], on: str) -> bool:
    return bool(doe["left_on"]) and bool(doe["left_on"] <= on)


def shift(day: str, days: int) -> str:
    """A date some days later (or earlier)."""
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()


def days_between(first: str, last: str) -> int:
    """Whole days from one date to another."""
    return (date.fromisoformat(last) - date.fromisoformat(first)).days
