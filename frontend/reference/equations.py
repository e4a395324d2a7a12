"""Public functions of herd/science as their docstrings tell them, with the parameters and equations each one uses."""

from __future__ import annotations

import ast
import re
from pathlib import Path
from typing import Any

from docstring import told
from uses import Module

# What every room stands on says nothing about goats.
NOT_SCIENCE = {"base", "parameters", "__init__"}
Numbers = dict[str, dict[str, list[Any]]]


def equations(science: Path, numbers: Numbers) -> tuple[dict[str, str], dict[str, dict[str, Any]]]:
    """{room.file: what it is about}, {room.file.function: equation}, of the functions marked as equations."""
    paths = sorted(
        path for path in science.rglob("*.py") if not NOT_SCIENCE & set(path.relative_to(science).with_suffix("").parts)
    )
    modules = {name_of(path, science): Module(path, numbers) for path in paths}
    topics: dict[str, str] = {}
    found: dict[str, dict[str, Any]] = {}
    for name, module in modules.items():
        of_module = ast.get_docstring(module.tree) or ""
        listed = {f"{name}.{node.name}": node for node in module.public() if is_equation(node)}
        if listed:
            topics[name] = re.sub(r"\s+", " ", of_module or name).split(". ")[0].rstrip(".") + "."
        for key, node in listed.items():
            found[key] = {**told(node, of_module), **module.rests_on(node)}
    _link(found)
    return topics, found


def name_of(path: Path, science: Path) -> str:
    """Where it stands, as the science itself records it."""
    return ".".join(path.relative_to(science).with_suffix("").parts)


def is_equation(node: ast.FunctionDef) -> bool:
    """Marked `@equation`: what is called is then recorded."""
    return any(isinstance(mark, ast.Name) and mark.id == "equation" for mark in node.decorator_list)


def _link(found: dict[str, dict[str, Any]]) -> None:
    """Names of functions become keys of equations; what is not listed is dropped."""
    by_name = {key.rsplit(".", 1)[1]: key for key in found}
    for key, entry in found.items():
        entry["uses"] = sorted({by_name[name] for name in entry["uses"] if name in by_name} - {key})
