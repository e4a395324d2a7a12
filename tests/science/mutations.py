"""`python -m tests.science.mutations`: is a parameter that is wrong by 15 % noticed?

Each parameter that moves an outlook is moved up and down, and the quick checks that read it are run in this process,
the quickest first, until one fails. `--sample 20 --seed 1` takes some of them, `--only pregnancy.` those so named,
`--by-whom` says what noticed.
A check is a published row, or a test of science, of compiling or of the trade that needs nothing but its arguments.
"""

from __future__ import annotations

import argparse
import contextlib
import inspect
import io
import json
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from random import Random
from typing import Any
from unittest import mock

import pytest

from herd.outlook.compile import compile_doe
from herd.outlook.rules import rules_of
from herd.science.base.record import Heard
from herd.science.dates import conception, exposure, gestation
from herd.science.feeds import library
from herd.science.parameters import topics, values
from tests.published.rows import rows
from tests.support.compiled import TODAY
from tests.support.many_does import many_does

STEP = 0.15
GOAL = 0.95
SLOWEST_S = 5.0
CHECKS = (
    "tests/published/test_published.py",
    "tests/published/test_systems.py",
    "tests/science",
    "tests/trade",
    "tests/outlook/test_compile_defaults.py",
    "tests/outlook/test_compile_needs.py",
    "tests/outlook/test_compile_joins.py",
    "tests/outlook/test_compile_milk.py",
    "tests/outlook/test_compile_plan.py",
    "tests/outlook/test_compile_risk.py",
)
OURS = {row.id for row in rows("memory")}
_read: set[str] = set()


@dataclass
class Check:
    """One thing that can notice: what it reads, and how long it takes."""

    name: str
    run: Callable[[], object]
    reads: set[str] = field(default_factory=set)
    seconds: float = 0.0


@contextlib.contextmanager
def listening() -> Iterator[None]:
    """Every number read goes into `_read`, whoever else listens."""
    plain = Heard.__getitem__

    def heard(self: Any, name: str) -> Any:
        found = plain(self, name)
        _read.add(self._names[name])
        return found

    with mock.patch.object(Heard, "__getitem__", heard):
        yield


def forget() -> None:
    """Nothing worked out before counts."""
    for module in (conception, exposure, gestation, library):
        for part in vars(module).values():
            if getattr(part, "__module__", "") == module.__name__:
                getattr(part, "forget", getattr(part, "cache_clear", lambda: None))()


@contextlib.contextmanager
def moved(parameter: str, by: float) -> Iterator[None]:
    """The parameter as if its table held another value."""
    topic, _, name = parameter.partition(".")
    held = values(topic)
    assert isinstance(held, Heard)
    numbers = held._numbers
    right = numbers[name]
    numbers[name] = right * (1 + by)
    forget()
    try:
        yield
    finally:
        numbers[name] = right
        forget()


def outlook(doe: dict[str, Any]) -> str:
    return json.dumps(compile_doe(doe, rules_of({}), TODAY, "doe"), sort_keys=True)


def collected() -> list[Check]:
    """The checks, by pytest's own collecting; none that is slow, draws at random, or asks for a fixture."""
    found: list[Check] = []

    class Collector:
        def pytest_collection_finish(self, session: pytest.Session) -> None:
            found.extend(Check(item.nodeid, bare(item)) for item in session.items if is_bare(item))

    with contextlib.redirect_stdout(io.StringIO()):
        pytest.main(["--collect-only", "-q", "-p", "no:cacheprovider", *CHECKS], plugins=[Collector()])
    return found


def is_bare(item: pytest.Item) -> bool:
    if not isinstance(item, pytest.Function) or item.cls or item.get_closest_marker("slow"):
        return False
    given = set(item.callspec.params) if hasattr(item, "callspec") else set()
    drawn = hasattr(item.function, "hypothesis") or getattr(item.function, "is_hypothesis_test", False)
    return set(inspect.signature(item.function).parameters) <= given and not drawn


def bare(item: Any) -> Callable[[], object]:
    arguments = dict(item.callspec.params) if hasattr(item, "callspec") else {}
    return lambda: item.function(**arguments)


def passes(check: Check) -> bool:
    try:
        with contextlib.redirect_stdout(io.StringIO()):
            check.run()
    except (Exception, pytest.fail.Exception):
        return False
    return True


def learned(checks: list[Check]) -> list[Check]:
    """The checks that hold and are quick enough, each with what it reads, quickest first."""
    kept = []
    for check in checks:
        forget()
        _read.clear()
        began = time.perf_counter()
        holds = passes(check)
        check.seconds, check.reads = time.perf_counter() - began, set(_read)
        if holds and check.reads and check.seconds < SLOWEST_S:
            kept.append(check)
    return sorted(kept, key=lambda check: check.seconds)


def compiled() -> list[tuple[dict[str, Any], str, set[str]]]:
    """Each doe with her outlook and what it reads."""
    found = []
    for doe in many_does():
        forget()
        _read.clear()
        made = outlook(doe)
        found.append((doe, made, set(_read)))
    return found


def moves(parameter: str, by: float, does: list[tuple[dict[str, Any], str, set[str]]]) -> bool:
    with moved(parameter, by):
        return any(differs(doe, made) for doe, made, reads in does if parameter in reads)


def differs(doe: dict[str, Any], made: str) -> bool:
    try:
        return outlook(doe) != made
    except Exception:  # a number that stops the compiler has moved the outlook
        return True


def caught_by(parameter: str, by: float, checks: list[Check]) -> str:
    """What noticed it; a row we recalled or judged ourselves only where nothing else does."""
    with moved(parameter, by):
        readers = sorted((check for check in checks if parameter in check.reads), key=is_ours)
        return next((check.name for check in readers if not passes(check)), "")


def is_ours(check: Check) -> bool:
    return check.name.partition("test_row[")[2].rstrip("]") in OURS


def parameters(only: str) -> list[str]:
    return [f"{topic}.{name}" for topic in topics() for name in values(topic) if f"{topic}.{name}".startswith(only)]


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description="Is a parameter that is wrong by 15 % noticed?")
    parser.add_argument("--sample", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="")
    parser.add_argument("--by-whom", action="store_true", help="print what noticed each")
    return parser.parse_args()


def main() -> float:
    asked = arguments()
    with listening():
        does, checks = compiled(), learned(collected())
        read = sorted(set(parameters(asked.only)) & set().union(*(reads for _, _, reads in does)))
        chosen = sorted(Random(asked.seed).sample(read, asked.sample)) if asked.sample else read
        tried = [(name, by) for name in chosen for by in (STEP, -STEP) if moves(name, by, does)]
        found = {one: caught_by(*one, checks) for one in tried}
    for (name, by), whom in found.items():
        if not whom or asked.by_whom:
            print(f"{name} {by:+.0%}: {whom or 'NOT NOTICED'}")
    moving = len({name for name, _ in tried})
    print(f"{len(does)} does, {len(checks)} checks, {moving} of {len(chosen)} parameters read move an outlook")
    return said(list(found.values()))


def said(noticed_by: list[str]) -> float:
    caught = [whom for whom in noticed_by if whom]
    ours = sum(is_ours(Check(whom, str)) for whom in caught)
    share = len(caught) / max(1, len(noticed_by))
    print(f"{len(noticed_by)} mutations of {STEP:.0%}, {len(caught)} noticed: {share:.1%} (goal {GOAL:.0%})")
    print(f"{ours} of them only by a row we recalled or judged ourselves")
    return share


if __name__ == "__main__":
    raise SystemExit(main() < GOAL)
