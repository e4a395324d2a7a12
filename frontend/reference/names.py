"""Plain names for what the reference lists: symbols, arguments, parameters, numbers, columns; units in words."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from lists import toml

Words = dict[str, Any]
ELEMENTS = {"card", "water"}
BREEDS = {"breeds", "gestation"}
SYMBOL = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:\((?:t|term)\))?")


class Names:
    """Whatever has a name in code, as it is called."""

    def __init__(self, path: Path, feeds: dict[str, str]):
        self.of: Words = toml(path)
        self.feeds = feeds

    def parameter(self, topic: str, name: str) -> str:
        said = self.of["names"]
        found = said.get(f"{topic}.{name}") or self._family(topic, name) or said.get(name)
        return str(found or self.made(name))

    def plain(self, name: str) -> str:
        """Of an argument (several may be named together), a number or a column."""
        parts = [self.of["names"].get(part) or self.made(part) for part in re.split(r",\s*", name)]
        return ", ".join(parts)

    def made(self, name: str) -> str:
        """Part by part; a name that is nothing but units keeps its parts."""
        parts = [part for part in name.split("_") if part]
        said = [self.of["words"].get(part, part) for part in parts]
        return " ".join(filter(None, said)) or " ".join(parts)

    def _family(self, topic: str, name: str) -> str:
        if topic == "scoops":
            return self.feeds.get(name, "")
        lines = self.of["elements"] if topic in ELEMENTS else self.of["breeds"] if topic in BREEDS else {}
        for line in sorted(lines, key=len, reverse=True):
            if name.endswith(f"_{line}"):
                return f"{self.made(name.removesuffix(f'_{line}'))}: {lines[line]}"
        return ""

    def symbols(self, key: str, equation: str) -> list[list[str]]:
        """[[as it stands, plain name, unit]] of those that stand in an equation, in its order."""
        known = {**self.of["symbols"], **self.of["symbols_of"].get(key.rsplit(".", 1)[0], {})}
        found = dict.fromkeys(SYMBOL.findall(equation))
        return [[symbol, *known[symbol]] for symbol in found if symbol in known]

    def unit(self, unit: str) -> str:
        if unit in self.of["whole_units"]:
            return str(self.of["whole_units"][unit])
        words = re.sub(r"[A-Za-z]+", lambda found: str(self.of["units"].get(found[0], found[0])), unit)
        return re.sub(r"/d\b", " a day", words)


def named(names: Names, params: dict[str, dict[str, Any]], others: Iterable[str]) -> dict[str, str]:
    """{as it is called in code: in words}; a parameter goes by its topic and name."""
    found = {f"{topic}.{name}": names.parameter(topic, name) for topic, rows in params.items() for name in rows}
    return {**found, **{name: names.plain(name) for name in others}}
