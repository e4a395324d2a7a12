import tomllib
from typing import Any

import pytest

from tests.support.paths import ROOT

SCIENCE = ROOT / "herd/science"
KEYS = {"value", "unit", "low", "high", "source", "where", "standing"}
STANDINGS = {"READ", "DERIVED", "MEMORY", "EXPERT"}


def parameters(table: dict[str, Any], at: str) -> list[tuple[str, dict[str, Any]]]:
    """Every innermost table is a parameter; tables of tables only group them."""
    inner = {key: entry for key, entry in table.items() if isinstance(entry, dict)}
    if not inner:
        return [(at, table)]
    return [found for key, entry in inner.items() for found in parameters(entry, f"{at}.{key}")]


FILES = sorted((SCIENCE / "parameters").glob("*.toml"))
ALL = [found for path in FILES for found in parameters(tomllib.loads(path.read_text()), path.stem)]


SOURCES = tomllib.loads((SCIENCE / "sources.toml").read_text())
RANGES = tomllib.loads((SCIENCE / "ranges.toml").read_text())


def test_there_are_parameters_and_ranges() -> None:
    assert ALL
    assert RANGES


@pytest.mark.parametrize(("at", "entry"), RANGES.items(), ids=list(RANGES))
def test_range_is_complete(at: str, entry: dict[str, Any]) -> None:
    assert KEYS - {"value"} <= entry.keys(), at
    assert entry["low"] < entry["high"], f"{at}: nothing can lie in it"
    assert entry["source"] in SOURCES


def test_every_source_is_used_and_says_what_it_is() -> None:
    judged = (SCIENCE.parent / "outlook/tables").glob("*.toml")
    files = [path for path in SCIENCE.rglob("*") if path.suffix in {".py", ".toml", ".csv"}]
    used = "".join(path.read_text() for path in (*files, *judged))
    assert [key for key, entry in SOURCES.items() if used.count(key) < 2 or not entry.get("title")] == []


@pytest.mark.parametrize(("at", "entry"), ALL, ids=[at for at, _ in ALL])
def test_parameter_is_complete(at: str, entry: dict[str, Any]) -> None:
    assert entry.keys() >= KEYS, f"{at} lacks {sorted(KEYS - entry.keys())}"
    assert entry["standing"] in STANDINGS
    assert entry["unit"]
    values = entry["value"] if isinstance(entry["value"], list) else [entry["value"]]
    assert all(entry["low"] <= value <= entry["high"] for value in values), f"{at} lies outside its own range"
    assert entry["source"] in SOURCES
