import tomllib
from typing import Any

import pytest

from tests.support.paths import ROOT

SCIENCE = ROOT / "herd/science"
KEYS = {"value", "unit", "low", "high", "source", "where", "standing"}
STANDINGS = {"read", "derived", "memory", "judgement"}


def parameters(table: dict[str, Any], at: str) -> list[tuple[str, dict[str, Any]]]:
    """Every innermost table is a parameter; tables of tables only group them."""
    inner = {key: entry for key, entry in table.items() if isinstance(entry, dict)}
    if not inner:
        return [(at, table)]
    return [found for key, entry in inner.items() for found in parameters(entry, f"{at}.{key}")]


FILES = sorted((SCIENCE / "parameters").glob("*.toml"))
ALL = [found for path in FILES for found in parameters(tomllib.loads(path.read_text()), path.stem)]


def test_there_are_parameters() -> None:
    assert ALL


@pytest.mark.parametrize(("at", "entry"), ALL, ids=[at for at, _ in ALL])
def test_parameter_is_complete(at: str, entry: dict[str, Any]) -> None:
    assert entry.keys() >= KEYS, f"{at} lacks {sorted(KEYS - entry.keys())}"
    assert entry["standing"] in STANDINGS
    assert entry["unit"]
    assert entry["low"] < entry["high"], f"{at}: an empty range"
    values = entry["value"] if isinstance(entry["value"], list) else [entry["value"]]
    assert all(entry["low"] <= value <= entry["high"] for value in values), f"{at} lies outside its own range"
    assert entry["source"] in tomllib.loads((SCIENCE / "sources.toml").read_text())
