"""What each payload field accepts, as one table both languages read.

`python -m tests.support.payload_probes` writes it. For every field of every golden event the same probe
values are put in; "1" says accepted, "0" refused.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from typing import Any

from herd.outlook.rules import RULES
from herd.state.envelope import problem_of
from herd.state.kinds import RECORDS
from herd.state.payloads import FORMS
from tests.support.paths import ROOT
from tests.support.vectors import pretty

WHY = (
    "What each field of each golden event accepts: the same odd values put in everywhere, 1 accepted and 0 refused. "
    "Made by tests/support/payload_probes.py, so that both languages refuse the same."
)
FILE = ROOT / "tests/vectors/payloads/probes.json"
EDGES = (0, 1, 4, 5, 10, 30, 40, 45, 60, 100, 130, 135, 140, 150, 160, 165, 275, 500, 600, 1000, 1500, 1600, 2000, 2500)
LARGE = (3000, 3200, 4100, 20_000, 30_000, 60_000, 100_000, 250_000, 600_000, 10**9, 253_402_300_799_000)
NUMBERS = sorted({n + k for n in (*EDGES, *LARGE) for k in (-1, 0, 1)} | {-(10**9), -(10**9) - 1})
CODES = (
    "mini",
    "lb",
    "hard",
    "boer",
    "mixed",
    "pen",
    "late",
    "scan",
    "unsure",
    "died",
    "tape",
    "not_up",
    "vet",
    "milk_fever",
    "flake",
    "yes",
    "same",
    "chewing",
    "loose",
    "lame",
    "gates",
    "overload",
    "grass_hay",
    "A b",
)
DATES = ("2026-11-24", "2026-02-29", "2028-02-29", "2026-13-01", "2026-1-1", "0000-01-01")
TEXTS = (
    "",
    " ",
    "é" * 40,
    "é" * 41,
    "é" * 60,
    "é" * 61,
    "é" * 81,
    "é" * 121,
    "é" * 501,
    "x" * 1001,
    "x" * 2000,
    "x" * 2001,
    "\U0001f410" * 40,
    "a\0b",
    "a\tb\n",
    "\ud83d",
)
IDS = ("0190f3a2-9999-7000-8000-000000000001", "0190F3A2-9999-7000-8000-000000000001", "019b00000000-0001-0190f3a2")
SHAPES = (
    None,
    True,
    False,
    1.5,
    [],
    {},
    ["alone"],
    ["alone", "alone"],
    ["sneezing"],
    [None],
    ["selenium"],
    [1],
    [0],
    [200, 600_000],
    [5] * 11,
)
PROBES: list[Any] = [*SHAPES, *CODES, *DATES, *TEXTS, *IDS, *NUMBERS]


def table() -> dict[str, Any]:
    """{"probes": values, "of": {golden event: {path: verdicts}}, "rules": {name: [lowest, highest]}}."""
    verdicts: dict[str, dict[str, str]] = {}
    for path in sorted((ROOT / "tests/vectors/events").glob("*.json")):
        event = json.loads(path.read_text())["event"]
        verdicts[path.stem] = {where: _verdicts(event, where) for where in _paths(event)}
    limits = {name: [rule.low, rule.high] for name, rule in sorted(RULES.items())}
    return {"probes": PROBES, "of": verdicts, "rules": limits}


def _paths(event: dict[str, Any]) -> Iterator[str]:
    yield from ("subject", "on", "slot", "data")
    yield from (f"data.{where}" for where in _inside(event["data"]))
    fields = FORMS[event["kind"], 1] if event["kind"] in RECORDS else {}
    yield from (f"data.f.{name}" for name in fields if name not in event["data"]["f"])


def _inside(value: Any) -> Iterator[str]:
    keys = range(len(value)) if isinstance(value, list) else value if isinstance(value, dict) else ()
    for key in keys:
        yield str(key)
        yield from (f"{key}.{rest}" for rest in _inside(value[key]))


def _verdicts(event: dict[str, Any], where: str) -> str:
    return "".join("0" if problem_of(changed(event, where, probe)) else "1" for probe in PROBES)


def changed(event: dict[str, Any], where: str, value: Any) -> dict[str, Any]:
    made: Any = copy.deepcopy(event)
    *parents, last = where.split(".")
    inner = made
    for step in parents:
        inner = inner[int(step)] if isinstance(inner, list) else inner[step]
    inner[int(last) if isinstance(inner, list) else last] = value
    return dict(made)


def text() -> str:
    return pretty({"why": WHY, **table()})


if __name__ == "__main__":
    FILE.write_text(text())
