"""The project's own files, for the tests that read them."""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.support.paths import ROOT

CODE = {".py", ".ts", ".svelte", ".js", ".css"}
MADE = ("herd/outlook/engine/evaluator.js", "frontend/src/core/tables/", "frontend/public/data/")
NOT_OURS = {".git", ".venv", ".data", ".chromium", "node_modules", "client_dist", "__pycache__"}


def project_files() -> list[Path]:
    """What git knows or would take in; without git (a bare machine), everything that is not made by a tool."""
    try:
        command = ["git", "ls-files", "--cached", "--others", "--exclude-standard"]
        listed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout.splitlines()
        return [ROOT / name for name in listed if (ROOT / name).is_file()]
    except (FileNotFoundError, subprocess.CalledProcessError):
        return [path for path in ROOT.rglob("*") if path.is_file() and ours(path)]


def ours(path: Path) -> bool:
    return not NOT_OURS & set(path.relative_to(ROOT).parts) and not name(path).startswith(MADE)


def code_files(*rooms: str, suffixes: set[str] = CODE) -> list[Path]:
    return sorted(
        path
        for path in project_files()
        if path.suffix in suffixes and name(path).startswith(tuple(rooms)) and "/migrations/" not in name(path)
    )


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


@cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text())


def imports(path: Path) -> Iterator[str]:
    """Every module PATH imports, dotted and absolute; `from a import b` gives both a and a.b."""
    package = list(path.relative_to(ROOT).parent.parts)
    for node in ast.walk(tree(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            above = package[: len(package) - node.level + 1] if node.level else []
            module = ".".join([*above, *([node.module] if node.module else [])])
            yield module
            yield from (f"{module}.{alias.name}" for alias in node.names)


def without_comments(path: Path) -> str:
    return re.sub(r"/\*.*?\*/|<!--.*?-->|(?<!:)//[^\n]*", "", path.read_text(), flags=re.DOTALL)
