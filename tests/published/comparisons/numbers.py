"""The comparisons' own numbers, ranges and sources, in the form and with the standing the product's have."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from herd.science.base import validity
from herd.science.base.arrays import Num
from herd.science.base.validity import Range, hold, read_ranges
from herd.science.parameters import Parameter, read_topic

HERE = Path(__file__).parent


@cache
def topic(name: str) -> Mapping[str, Parameter]:
    return read_topic(HERE / f"parameters/{name}.toml")


def values(name: str) -> Mapping[str, float]:
    return {key: parameter.value for key, parameter in topic(name).items()}


@cache
def ranges() -> Mapping[str, Range]:
    """Theirs, and the product's where an argument is the same."""
    return {**validity.ranges(), **read_ranges(HERE / "ranges.toml")}


@cache
def sources() -> Mapping[str, Mapping[str, Any]]:
    return tomllib.loads((HERE / "sources.toml").read_text(encoding="utf-8"))


def check(**arguments: Num) -> None:
    for name, value in arguments.items():
        hold(name, value, ranges()[name])
