"""Checks for single values. Each answers None, or one plain sentence that says what to do. Twin: checks.ts."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any

from .tables import CODES, FIELDS

Check = Callable[[Any], str | None]
Row = dict[str, Any]
DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\ud800-\udfff]")
PATTERNS = {name: re.compile(pattern) for name, pattern in FIELDS["patterns"].items()}
EMPTY: dict[str, Any] = {"blank": "", "zero": 0, "unknown": None}


def check_of(field: Row) -> Check:
    """The check that a row of a table of fields describes."""
    is_ = field["is"]
    check = _match(field) if is_ in PATTERNS else MAKERS[is_](field)
    return _or(EMPTY[field["or"]], check) if "or" in field else check


def words_of(field: Row) -> tuple[str, ...]:
    """What a choice may be: a list of the codes by name, or the words themselves."""
    of = field["of"]
    return CODES[of] if isinstance(of, str) else tuple(of)


def _or(empty: Any, check: Check) -> Check:
    return lambda value: None if type(value) is type(empty) and value == empty else check(value)


def _match(field: Row) -> Check:
    pattern, why = PATTERNS[field["is"]], f"{field['label']} must be {FIELDS['told'][field['is']]}."
    return lambda value: None if isinstance(value, str) and pattern.fullmatch(value) else why


def _whole(field: Row) -> Check:
    label, low, high, step = field["label"], field["low"], field["high"], field.get("step", 1)

    def check(value: Any) -> str | None:
        if type(value) is not int:
            return f"{label} must be a whole number."
        if not low <= value <= high:
            return f"{label} must be between {low} and {high}."
        return f"{label} must go in steps of {step}." if value % step else None

    return check


def _text(field: Row) -> Check:
    label, low, high = field["label"], field["low"], field["high"]

    def check(value: Any) -> str | None:
        if not isinstance(value, str) or CONTROL.search(value):
            return f"{label} must be plain text."
        if len(value) > high:
            return f"{label} is too long: at most {high} letters."
        return f"{label} is empty: fill it in." if len(value.strip()) < low else None

    return check


def _choice(field: Row) -> Check:
    options = words_of(field)
    why = f"{field['label']} must be one of: {', '.join(option or '(blank)' for option in options)}."
    return lambda value: None if isinstance(value, str) and value in options else why


def _flag(field: Row) -> Check:
    return lambda value: None if isinstance(value, bool) else f"{field['label']} must be yes or no."


def _day(field: Row) -> Check:
    return lambda value: None if is_day(value) else f"{field['label']} must be a date such as 2026-03-31."


def _content(field: Row) -> Check:
    return lambda value: None if isinstance(value, dict) else f"{field['label']} has no content: record it again."


def _listed(many: str, one: str, form: str) -> Callable[[Row], Check]:
    """A list of feeds, or of does by their ids, each once."""

    def made(field: Row) -> Check:
        label, most = field["label"], field["most"]

        def check(value: Any) -> str | None:
            good = isinstance(value, list) and len(value) <= most
            if not good or not all(isinstance(item, str) and PATTERNS[form].fullmatch(item) for item in value):
                return f"{label}: choose {many} from the list, at most {most}."
            return f"{label} names a {one} twice." if len(set(value)) < len(value) else None

        return check

    return made


def _numbers(field: Row) -> Check:
    """A list of whole numbers, at least one."""
    label, most, one = field["label"], field["most"], _whole(field)

    def check(value: Any) -> str | None:
        if not isinstance(value, list) or not 1 <= len(value) <= most:
            return f"{label}: give between 1 and {most} numbers."
        return next((why for why in map(one, value) if why), None)

    return check


def _codes(field: Row) -> Check:
    label, noun, allowed = field["label"], field["noun"], frozenset(words_of(field))

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


MAKERS: dict[str, Callable[[Row], Check]] = {
    "whole": _whole,
    "text": _text,
    "choice": _choice,
    "flag": _flag,
    "day": _day,
    "content": _content,
    "feeds": _listed("feeds", "feed", "code"),
    "ids": _listed("does", "doe", "id"),
    "numbers": _numbers,
    "codes": _codes,
}
