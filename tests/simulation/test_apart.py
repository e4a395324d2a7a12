"""The truth and the checkers take nothing from the product: only what looks through the phone's door may know it."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

HERE = Path(__file__).parent
# The door: the log's events, and the fold, compiler and evaluator behind them.
DOOR = {
    "phone.py": {"herd", "frontend"},
    "records.py": {"tests.support.log"},
    "plan.py": {"tests.support.log"},
    # The watch goes by the tables a phone weighs signs by; what really comes is watch_truth's.
    "watch.py": {"herd", "numpy"},
    "watch_report.py": {"herd", "numpy"},
    "test_watch.py": {"herd", "numpy", "tests.support"},
    "watch_learned.py": {"herd"},
    "test_watch_learned.py": {"numpy"},
}
OWN = sorted(path for path in HERE.rglob("*.py") if path.name not in DOOR)
STANDARD = {
    "__future__",
    "argparse",
    "ast",
    "collections",
    "copy",
    "dataclasses",
    "datetime",
    "functools",
    "itertools",
    "math",
}
STANDARD |= {"multiprocessing", "pathlib", "random", "statistics", "time", "typing", "pytest"}


def imported(path: Path) -> set[str]:
    """Modules a file names, its own folder's as '.'; imports inside functions too."""
    found = set[str]()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add("." * node.level + (node.module or ""))
    return found


def outside(path: Path) -> set[str]:
    return {name for name in imported(path) if not name.startswith(".") and name.split(".")[0] not in STANDARD}


@pytest.mark.parametrize("path", OWN, ids=lambda path: str(path.relative_to(HERE)))
def test_it_imports_nothing_but_the_standard_library_and_its_own(path: Path) -> None:
    assert not outside(path)


def test_the_door_opens_on_the_log_and_the_phone_alone() -> None:
    assert all(HERE.joinpath(name).exists() for name in DOOR)
    for name, allowed in DOOR.items():
        assert {one for one in outside(HERE / name) if not any(one.startswith(part) for part in allowed)} == set()


def test_the_truth_knows_nothing_of_keepers_and_phones() -> None:
    for path in sorted((HERE / "truth").glob("*.py")):
        assert not {name for name in imported(path) if name.startswith("..")}, path.name


def test_no_file_reads_the_product_by_another_way() -> None:
    """Neither by name at run time, nor its tables as files."""
    for path in OWN:
        if path.name == Path(__file__).name:
            continue
        words = [node.value for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Constant)]
        names = {node.id for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Name)}
        texts = [word for word in words if isinstance(word, str)]
        assert not names & {"__import__", "importlib", "open", "exec", "eval"}, path.name
        assert not [text for text in texts if ".toml" in text or "herd." in text or "frontend" in text], path.name
