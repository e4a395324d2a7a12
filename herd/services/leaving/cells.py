"""An entry as rows of a table: units in the heading, numbers to read, nothing a spreadsheet program would run."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from herd.state import tables
from herd.state.kinds import KINDS, RECORDS
from herd.state.order import Event, content, rows

SCALE = re.compile(r"_?x(10+)$")
SAID = re.compile(r" \((tenths|hundredths) of (?:an? )?(.+)\)")
PLAIN = {"per cent": "%", "degree C": "°C"}
UNITS = {
    "g": "g", "kg": "kg", "mm": "mm", "ml": "ml", "pm": "per thousand", "pct": "%", "c": "°C", "d": "days", "km": "km"
}  # fmt: skip
# A cell that begins with one of these is run by some spreadsheet programs.
RUNS = ("=", "+", "-", "@", "\t", "\r", "\n")
LINE_KEYS = "rows"


def fields_of(kind: str) -> dict[str, dict[str, Any]]:
    """Every field any version of a kind carries, those of its rows among them."""
    found: dict[str, dict[str, Any]] = {}
    for version in KINDS[kind].versions:
        block = tables.KINDS[kind][str(version)]
        for name in block.get("with", ()):
            found |= tables.FIELDS["sets"][name]
        found |= {key: field for key, field in block.items() if isinstance(field, dict)}
    return found


def columns_of(kind: str) -> list[tuple[str, str]]:
    """(key, heading) of what an entry of this kind says; of an open list, name and value."""
    if kind == "rules":
        return [("rule", "Rule"), ("value", "Value")]
    if kind not in KINDS:
        return [("data", "As it came")]
    found = []
    for key, field in fields_of(kind).items():
        if field.get("is") == LINE_KEYS:
            found += [(f"{key}.{name}", heading(name, one)) for name, one in field.get("row", {}).items()]
        elif key != "base":
            found.append((key, heading(key, field)))
    return found


def heading(key: str, field: Mapping[str, Any]) -> str:
    label = str(field.get("label", key.replace("_", " ").capitalize()))
    if told := SAID.search(label):
        return SAID.sub(f" ({PLAIN.get(told[2], told[2])})", label)
    unit = UNITS.get(SCALE.sub("", key).split("_")[-1], "")
    said = not unit or "gram" in label.lower() or field.get("is") not in ("whole", "numbers")
    return label if said else f"{label} ({unit})"


def rows_of(event: Event, names: Mapping[str, str]) -> Iterator[dict[str, str]]:
    """One row; one a line where the entry has several, such as a pen's feeding."""
    kind = event["kind"]
    said = content(event)
    if kind in RECORDS:
        said = said["f"] if isinstance(said.get("f"), dict) else {}
    if kind == "rules":
        yield from ({"rule": safe(key), "value": cell(key, value, names)} for key, value in said.items())
        return
    fields = fields_of(kind) if kind in KINDS else {}
    plain = {key: cell(key, value, names) for key, value in said.items() if not _lines(fields, key)}
    lined = [(key, line) for key in said if _lines(fields, key) for line in rows(said, key)]
    if not lined:
        yield plain
    for key, line in lined:
        inner = {f"{key}.{name}": cell(name, value, names) for name, value in line.items()}
        yield {**plain, **inner}


def _lines(fields: Mapping[str, Any], key: str) -> bool:
    return bool(fields.get(key, {}).get("is") == LINE_KEYS)


def cell(key: str, value: Any, names: Mapping[str, str]) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        scale = SCALE.search(key)
        return str(value) if not scale else f"{value / int(scale[1]):.{len(scale[1]) - 1}f}"
    if isinstance(value, list):
        return safe(", ".join(cell(key, one, names) for one in value))
    return safe(names.get(value, value) if isinstance(value, str) else str(value))


def safe(text: str) -> str:
    return f"'{text}" if text.startswith(RUNS) else text
