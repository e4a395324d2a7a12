"""Which parameters and which other functions a function of herd/science works with, read from its code."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any


class Module:
    """One file: its tables (`P = values("maintenance")`), and its functions by name."""

    def __init__(self, path: Path, numbers: dict[str, dict[str, list[Any]]]) -> None:
        self.tree = ast.parse(path.read_text(encoding="utf-8"))
        self.numbers = numbers
        self.functions = {node.name: node for node in self.tree.body if isinstance(node, ast.FunctionDef)}
        self.words = {
            node.targets[0].id: node.value.value
            for node in self.tree.body
            if isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Name)
            and isinstance(node.value, ast.Constant)
        }
        self.tables = self._tables(self.tree.body, {})

    def public(self) -> list[ast.FunctionDef]:
        return [node for name, node in self.functions.items() if not name.startswith("_")]

    def rests_on(self, node: ast.FunctionDef) -> dict[str, list[str]]:
        """{"params": [topic.name], "uses": [function]}, through the private helpers of the same file."""
        params: set[str] = set()
        uses: set[str] = set()
        seen: set[str] = set()
        waiting = [node.name]
        said = {part.value for part in ast.walk(node) if isinstance(part, ast.Constant) and isinstance(part.value, str)}
        while waiting:
            name = waiting.pop()
            if name in seen:
                continue
            seen.add(name)
            own = self.functions[name]
            params |= set(self._parameters(own, said))
            calls = (part.func for part in ast.walk(own) if isinstance(part, ast.Call))
            called = {func.id for func in calls if isinstance(func, ast.Name)} - {name}
            waiting += [other for other in called if other.startswith("_") and other in self.functions]
            uses |= {other for other in called if not other.startswith("_")}
        return {"params": sorted(params), "uses": sorted(uses)}

    def _tables(self, body: list[ast.stmt], known: dict[str, str]) -> dict[str, str]:
        for node in body:
            if (
                isinstance(node, ast.Assign)
                and isinstance(node.targets[0], ast.Name)
                and (topic := self._topic(node.value))
            ):
                known[node.targets[0].id] = topic
        return known

    def _topic(self, node: ast.expr) -> str:
        """Topic of `values("topic")`, also where the name is a constant of the file."""
        if not (
            isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "values" and node.args
        ):
            return ""
        named = node.args[0]
        return str(self.words.get(named.id, "") if isinstance(named, ast.Name) else ast.literal_eval(named))

    def _parameters(self, node: ast.FunctionDef, said: set[str]) -> Iterator[str]:
        tables = self._tables(node.body, dict(self.tables))
        for part in ast.walk(node):
            if not isinstance(part, ast.Subscript):
                continue
            topic = tables.get(part.value.id, "") if isinstance(part.value, ast.Name) else self._topic(part.value)
            found = [
                (name, filled) for name in self.numbers.get(topic, ()) if (filled := fits(part.slice, name)) is not None
            ]
            # a helper that fills in "energy" or "protein" is read with the word its caller says
            meant = [name for name, filled in found if filled in said]
            yield from (f"{topic}.{name}" for name in meant or [name for name, _ in found])


def fits(key: ast.expr, name: str) -> str | None:
    """Whether a subscript may name this parameter: as written, by either side of a choice, or with a part filled in.

    None if not, else the text that was filled in.
    """
    if isinstance(key, ast.Constant):
        return "" if key.value == name else None
    if isinstance(key, ast.IfExp):
        found = [fits(side, name) for side in (key.body, key.orelse)]
        return next((filled for filled in found if filled is not None), None)
    if isinstance(key, ast.JoinedStr):
        pattern = "".join(re.escape(str(p.value)) if isinstance(p, ast.Constant) else r"(\w+)" for p in key.values)
        match = re.fullmatch(pattern, name)
        return match.group(1) if match and match.groups() else None
    return None
