"""Checks for single values. Each answers None, or one plain sentence that says what to do."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

Check = Callable[[Any], str | None]
UUID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
STAMP = re.compile(r"[0-9a-f]{12}-[0-9a-f]{4}-[0-9a-f]{8}")
CODE = re.compile(r"[a-z0-9][a-z0-9_-]{0,59}")
DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")


def whole(label: str, low: int, high: int, *, step: int = 1) -> Check:
    def check(value: Any) -> str | None:
        if type(value) is not int:
            return f"{label} must be a whole number."
        if not low <= value <= high:
            return f"{label} must be between {low} and {high}."
        return f"{label} must go in steps of {step}." if value % step else None

    return check


def text(label: str, low: int, high: int) -> Check:
    def check(value: Any) -> str | None:
        if not isinstance(value, str) or CONTROL.search(value):
            return f"{label} must be plain text."
        if len(value) > high:
            return f"{label} is too long: at most {high} letters."
        return f"{label} is empty: fill it in." if len(value.strip()) < low else None

    return check


def choice(label: str, options: tuple[str, ...]) -> Check:
    named = ", ".join(option or "(blank)" for option in options)
    return lambda value: None if isinstance(value, str) and value in options else f"{label} must be one of: {named}."


def flag(label: str) -> Check:
    return lambda value: None if isinstance(value, bool) else f"{label} must be yes or no."


def day(label: str) -> Check:
    return lambda value: None if is_day(value) else f"{label} must be a date such as 2026-03-31."


def match(label: str, pattern: re.Pattern[str], what: str) -> Check:
    return lambda value: None if isinstance(value, str) and pattern.fullmatch(value) else f"{label} must be {what}."


def ref(label: str) -> Check:
    """An id made by a phone."""
    return match(label, UUID, "an id")


def feed_ref(label: str) -> Check:
    """A feed of the library (a code) or one of the farm's own feeds or lots (an id)."""
    return match(label, CODE, "a feed from the list")


def feed_refs(label: str, most: int = 40) -> Check:
    """A list of feeds, each once."""
    one = feed_ref(label)

    def check(value: Any) -> str | None:
        if not isinstance(value, list) or len(value) > most or any(one(item) for item in value):
            return f"{label}: choose feeds from the list, at most {most}."
        return f"{label} names a feed twice." if len(set(value)) < len(value) else None

    return check


def or_blank(check: Check) -> Check:
    return lambda value: None if value == "" and isinstance(value, str) else check(value)


def or_zero(check: Check) -> Check:
    return lambda value: None if type(value) is int and value == 0 else check(value)


def or_unknown(check: Check) -> Check:
    return lambda value: None if value is None else check(value)


def numbers(label: str, most: int, low: int, high: int) -> Check:
    """A list of whole numbers, at least one."""
    one = whole(label, low, high)

    def check(value: Any) -> str | None:
        if not isinstance(value, list) or not 1 <= len(value) <= most:
            return f"{label}: give between 1 and {most} numbers."
        return next((why for why in map(one, value) if why), None)

    return check


def codes(label: str, options: tuple[str, ...], noun: str = "sign") -> Check:
    allowed = frozenset(options)

    def check(value: Any) -> str | None:
        if not isinstance(value, list) or not all(isinstance(code, str) and code in allowed for code in value):
            return f"{label} holds a {noun} this farm does not know: choose from the list."
        return f"{label} names a {noun} twice." if len(set(value)) < len(value) else None

    return check


def is_day(value: Any) -> bool:
    if not isinstance(value, str) or not DAY.fullmatch(value):
        return False
    try:
        date.fromisoformat(value)
    except ValueError:
        return False
    return True
