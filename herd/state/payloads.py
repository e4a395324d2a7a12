"""What each event may carry. Impossible values are refused with the field's name; odd ones are accepted.

The fields stand in tables/kinds.toml and tables/fields.toml; rules over several of them stand here. Twin: payloads.ts.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .checks import PATTERNS, Check, check_of
from .kinds import KINDS, RECORDS
from .tables import FIELDS
from .tables import KINDS as TABLE


@dataclass(frozen=True, slots=True)
class Problem:
    """Why one event is refused: a code for the app, the field, and a sentence for the person."""

    code: str
    field: str
    why: str


@dataclass(frozen=True, slots=True)
class Field:
    """`row`: the fields of each row, where it is a list of rows, `most` of them."""

    check: Check | None
    may: bool = False
    row: Fields | None = None
    most: int = 0


Fields = dict[str, Field]


def _field(described: dict[str, Any]) -> Field:
    may = described.get("may", False)
    if described["is"] == "rows":
        return Field(None, may, _fields_of(described["row"]), described["most"])
    return Field(check_of(described), may)


def _fields_of(table: dict[str, Any]) -> Fields:
    return {name: _field(described) for name, described in table.items()}


def _form(version: dict[str, Any]) -> Fields:
    own = {name: described for name, described in version.items() if name != "with"}
    sets = [FIELDS["sets"][name] for name in version.get("with", ())]
    return _fields_of({name: described for part in (own, *sets) for name, described in part.items()})


FORMS: dict[tuple[str, int], Fields] = {
    (kind.name, version): _form(TABLE[kind.name][str(version)]) for kind in KINDS.values() for version in kind.versions
}
STAMP = check_of({"is": "stamp", "or": "blank", "label": "The stamp seen"})
ONE_DOE_G = check_of(FIELDS["one_doe"]["g"])
RULE_NUMBER, RULE_WORD = (check_of(FIELDS["any_rule"][name]) for name in ("number", "word"))


def problem_in(kind: str, version: int, data: Any) -> Problem | None:
    """None when the payload of a known kind and version is possible."""
    if not isinstance(data, dict):
        return _bad("data", "The entry has no content: record it again.")
    if kind in RECORDS:
        return _record(kind, version, data)
    return _fields(FORMS[kind, version], data) or _together(kind, data)


def correction_problem(kind: str, content: Any) -> Problem | None:
    """The new content of a correction, judged once the kind of its target is known."""
    found = [problem_in(kind, version, content) for version in reversed(KINDS[kind].versions)]
    return None if None in found else found[0]


def _bad(field: str, why: str) -> Problem:
    return Problem("bad_field", field, why)


def _fields(fields: Fields, data: dict[str, Any], where: str = "") -> Problem | None:
    for name, field in fields.items():
        if name not in data and not field.may:
            return _bad(where + name, f"The field {where}{name} is missing: fill it in.")
        if name in data and (found := _value(field, data[name], where + name)):
            return found
    strange = next((where + name for name in data if name not in fields), None)
    return _bad(strange, f"The field {strange} does not belong in this entry: update the app.") if strange else None


def _value(field: Field, value: Any, where: str) -> Problem | None:
    if field.row is not None:
        return _rows(field.row, field.most, value, where)
    why = field.check(value) if field.check else None
    return _bad(where, why) if why else None


def _rows(row_fields: Fields, most: int, rows: Any, where: str) -> Problem | None:
    if not isinstance(rows, list) or not rows or len(rows) > most:
        return _bad(where, f"Give between 1 and {most} {where}.")
    for place, row in enumerate(rows):
        if not isinstance(row, dict):
            return _bad(f"{where}.{place}", f"Row {place + 1} of {where} is empty: fill it in.")
        if found := _fields(row_fields, row, f"{where}.{place}."):
            return found
    return None


def _record(kind: str, version: int, data: dict[str, Any]) -> Problem | None:
    written, base = data.get("f"), data.get("base")
    if not isinstance(written, dict) or not written:
        return _bad("f", "Nothing was filled in: change at least one field.")
    if not isinstance(base, dict) or data.keys() - {"f", "base"}:
        return _bad("base", "The entry does not say which values were seen: update the app.")
    for name, value in written.items():
        if why := _rule(name, value) if kind == "rules" else _record_field(kind, version, name, value):
            return _bad(f"f.{name}", why)
    for name, stamp in base.items():
        if why := STAMP(stamp):
            return _bad(f"base.{name}", why)
    return None


def _record_field(kind: str, version: int, name: str, value: Any) -> str | None:
    field = FORMS[kind, version].get(name)
    if field is None or field.check is None:
        return f"The field {name} does not belong to a {kind}: update the app."
    return field.check(value)


def _rule(name: str, value: Any) -> str | None:
    """A number or a short word. The table of herd rules owns the names and ranges, and a later room checks them."""
    if not PATTERNS["rule"].fullmatch(name):
        return f"That is not {FIELDS['told']['rule']}: update the app."
    return RULE_WORD(value) if isinstance(value, str) else RULE_NUMBER(value)


def _together(kind: str, data: dict[str, Any]) -> Problem | None:
    if kind == "ration":
        return _in_order(data["steps"]) or (_too_much(data["steps"], "steps") if data["to"] == "doe" else None)
    if kind == "fed":
        return _too_much(data["lines"], "lines")
    if kind == "water":
        return _each_once(data["values"])
    if kind == "bred" and data["to_on"] < data["from_on"]:
        return _bad("to_on", "The last day with the buck cannot be before the first.")
    if kind == "kidded" and data["alive"] > data["born"]:
        return _bad("alive", "No more kids can be alive than were born.")
    if kind == "task" and (data["what"] == "moved") != (data["to_on"] != ""):
        return _bad("to_on", "A task that is moved needs the day it is moved to, and no other does.")
    if kind == "signs" and set(data["seen"]) & set(data["absent"]):
        return _bad("absent", "A sign cannot be seen and absent at the same time.")
    return None


def _in_order(steps: list[dict[str, Any]]) -> Problem | None:
    dates = [step["on"] for step in steps]
    if any(later <= earlier for earlier, later in zip(dates, dates[1:], strict=False)):
        return _bad("steps", "Each step needs a later date than the one before it.")
    return None


def _too_much(rows: list[dict[str, Any]], name: str) -> Problem | None:
    for place, row in enumerate(rows):
        if row.get("to") != "" and (why := ONE_DOE_G(row["g"])):
            return _bad(f"{name}.{place}.g", why)
    return None


def _each_once(values: list[dict[str, Any]]) -> Problem | None:
    named = [row["what"] for row in values]
    twice = next((place for place, what in enumerate(named) if what in named[:place]), None)
    return None if twice is None else _bad(f"values.{twice}.what", "Each value stands once.")
