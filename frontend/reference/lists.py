"""What already is a table: parameters, ranges, sources, herd rules, distances."""

from __future__ import annotations

import ast
import csv
import hashlib
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

ROW = ("unit", "low", "high", "source", "where", "standing")


def toml(path: Path) -> dict[str, dict[str, Any]]:
    return tomllib.loads(path.read_text(encoding="utf-8"))


def parameters(science: Path) -> dict[str, dict[str, list[Any]]]:
    """{topic: {name: [value, unit, low, high, source, where, standing]}}"""
    files = sorted((science / "parameters").glob("*.toml"))
    return {
        path.stem: {name: [entry["value"], *(entry[key] for key in ROW)] for name, entry in toml(path).items()}
        for path in files
    }


def mark(equations: Iterable[str], numbers: dict[str, dict[str, list[Any]]]) -> str:
    """As herd/science/base/citable.py makes it: who holds the same mark means the same by a place in the list."""
    values = {f"{topic}.{name}": row[0] for topic, rows in numbers.items() for name, row in rows.items()}
    lines = [*sorted(equations), *(f"{name}={values[name]}" for name in sorted(values))]
    return hashlib.sha256("\n".join(lines).encode()).hexdigest()[:8]


def ranges(science: Path) -> dict[str, list[Any]]:
    """{argument: [unit, low, high, source, where, standing]}"""
    return {name: [entry[key] for key in ROW] for name, entry in toml(science / "ranges.toml").items()}


def sources(science: Path) -> dict[str, list[str]]:
    """{key: [title, authors, where]}"""
    entries = toml(science / "sources.toml")
    return {key: [str(entry.get(part, "")) for part in ("title", "authors", "where")] for key, entry in entries.items()}


def rules(outlook: Path) -> dict[str, list[Any]]:
    """{name: [default, unit, low, high, source, standing]} from the one table of herd rules."""
    parts = ("default", "unit", "low", "high", "source", "standing")
    sections = toml(outlook / "tables/rules.toml").values()
    rows = {name: row for section in sections if isinstance(section, dict) for name, row in section.items()}
    return {name: [row[part] for part in parts] for name, row in rows.items()}


def numbers(outlook: Path, params: dict[str, dict[str, list[Any]]]) -> dict[str, list[Any]]:
    """{name: [value, unit, low, high, source, where, standing]}: what no farm sets."""
    rows = toml(outlook / "tables/numbers.toml")
    return {name: _number(row, params) for name, row in rows.items()}


def _number(row: dict[str, Any], params: dict[str, dict[str, list[Any]]]) -> list[Any]:
    if "of" not in row:
        return [_said(row["value"]), *(row[key] for key in ROW)]
    topic, name = row["of"].split(".")
    value, _, low, high, *known = params[topic][name]
    return [value * row["times"], row["unit"], low * row["times"], high * row["times"], *known]


def _said(value: Any) -> Any:
    """A number as it is, a pair as from and to, a table by name."""
    if isinstance(value, list):
        return " to ".join(map(str, value))
    return ", ".join(f"{key} {_said(inner)}" for key, inner in value.items()) if isinstance(value, dict) else value


def assigned(tree: ast.Module, name: str) -> ast.expr:
    """What a name is set to at the top of a module."""
    for node in tree.body:
        target = (
            node.target
            if isinstance(node, ast.AnnAssign)
            else node.targets[0]
            if isinstance(node, ast.Assign)
            else None
        )
        if isinstance(target, ast.Name) and target.id == name and node.value is not None:
            return node.value
    raise LookupError(name)


def literal(path: Path, name: str) -> Any:
    """A table that is written out in a module."""
    return ast.literal_eval(assigned(ast.parse(path.read_text(encoding="utf-8")), name))


def version(science: Path) -> str:
    return str(literal(science / "__init__.py", "VERSION"))


def distances(path: Path) -> list[list[Any]]:
    """[[what, kg, system, theirs, ours, unit]]"""
    with path.open(newline="", encoding="utf-8") as lines:
        rows = list(csv.DictReader(lines))
    return [
        [row["what"], float(row["kg"]), row["system"], float(row["theirs"]), float(row["ours"]), row["unit"]]
        for row in rows
    ]
