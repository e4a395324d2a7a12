"""Published numbers, read from the tables beside this file: no equation carries one of its own."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any

from ..base.record import Heard

HERE = Path(__file__).parent
STANDINGS = ("READ", "DERIVED", "MEMORY", "EXPERT")


@dataclass(frozen=True)
class Parameter:
    """One number with its plausible range and how it is known; source is a key of sources.toml."""

    value: float
    unit: str
    low: float
    high: float
    source: str
    where: str
    standing: str


@cache
def topic(name: str) -> Mapping[str, Parameter]:
    """All parameters of one topic by name."""
    return read_topic(HERE / f"{name}.toml")


def read_topic(table: Path) -> Mapping[str, Parameter]:
    """The parameters of one table by name."""
    return MappingProxyType({key: Parameter(**entry) for key, entry in _tables(table).items()})


@cache
def values(name: str) -> Mapping[str, float]:
    """The bare numbers of one topic by name."""
    return Heard({key: parameter.value for key, parameter in topic(name).items()}, f"{name}.")


def topics() -> list[str]:
    """Every topic there is a table for."""
    return sorted(path.stem for path in HERE.glob("*.toml"))


@cache
def sources() -> Mapping[str, Mapping[str, Any]]:
    """The bibliography by key."""
    return MappingProxyType(_tables(HERE.parent / "sources.toml"))


def _tables(path: Path) -> dict[str, dict[str, Any]]:
    return tomllib.loads(path.read_text(encoding="utf-8"))
