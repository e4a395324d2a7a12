"""Which tests a change can reach: those of the rooms it touches, and of every room that may import them."""

from __future__ import annotations

import subprocess

from tests.support.paths import ROOT

# From left to right, as the rooms import; in each, where its code stands and where its tests stand.
ROOMS: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("herd/science/",), ("tests/science/", "tests/published/")),
    (("herd/state/",), ("tests/state/",)),
    (
        ("herd/outlook/", "frontend/src/core/", "frontend/src/engine.ts"),
        ("tests/outlook/", "tests/acceptance/", "tests/trade/", "tests/simulation/"),
    ),
    (("herd/models/", "herd/migrations/"), ("tests/models/",)),
    (("herd/services/",), ("tests/services/",)),
    (("herd/demo/",), ("tests/demo/",)),
    (("api/",), ("tests/api/", "tests/security/")),
    (("frontend/",), ("tests/frontend/", "tests/browser/")),
    (("herd/",), ("tests/house/", "tests/postgres/", "tests/bench/")),
)
ALWAYS = ("tests/rules/",)
EVERYTHING = ("tests/",)
HELPS = ("tests/conftest.py", "tests/support/", "tests/people.py", "tests/phones.py", "tests/logs.py")
FOR_ALL = (*HELPS, "pyproject.toml")


def tests_since(commit: str) -> set[str]:
    """Beginnings of the names of the test files to run. Without git, or for an unknown commit, all of them."""
    files = changed_files(commit)
    if files is None or any(file.startswith(FOR_ALL) for file in files):
        return set(EVERYTHING)
    return {*ALWAYS, *(test for file in files for test in reached(file))}


def changed_files(commit: str) -> list[str] | None:
    listed = []
    for command in (["diff", "--name-only", commit], ["ls-files", "--others", "--exclude-standard"]):
        try:
            done = subprocess.run(["git", *command], cwd=ROOT, capture_output=True, text=True, check=True)
        except (FileNotFoundError, subprocess.CalledProcessError):
            return None
        listed += done.stdout.splitlines()
    return listed


def reached(file: str) -> list[str]:
    """A room is imported by itself and by rooms to its right alone; a test file is imported by nobody."""
    if file.startswith("tests/"):
        folder = next((folder for folder in FOLDERS if file.startswith(folder)), "")
        return [file] if file.rsplit("/", 1)[-1].startswith("test_") else [folder or EVERYTHING[0]]
    first = next((place for place, (code, _) in enumerate(ROOMS) if file.startswith(code)), None)
    return [] if first is None else [test for _, tests in ROOMS[first:] for test in tests]


FOLDERS = tuple(test for _, tests in ROOMS for test in tests)
