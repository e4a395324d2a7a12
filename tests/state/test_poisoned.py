"""Entries that cannot hurt: whatever stands in a log, both folds come to the same farm, and sound entries count."""

from __future__ import annotations

import json
import os
import random
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from frontend import client_build
from herd.services.wire import replay
from herd.state.fold import fold
from herd.state.kinds import CHAINS, KINDS
from herd.state.order import Event, content, text
from tests.support import poison
from tests.support.generate_cases import canonical
from tests.support.thorough import times

COUNT = times("MANGERLINE_POISON_CASES", 2000, 10_000)
SEED = int(os.environ.get("MANGERLINE_POISON_SEED", "1"))
MOVES_NOTHING = ("parked", "aside")


def test_builds_of_before_and_after_differ_from_todays() -> None:
    with poison.build(poison.BEFORE):
        assert "triage" not in KINDS
    assert KINDS["weight"].versions == (1, 2)


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_both_folds_come_to_the_same_farm_whatever_stands_in_the_log(tmp_path: Path) -> None:
    file, met = tmp_path / "cases.jsonl", Counter[str]()
    with file.open("w") as out:
        for case in poison.cases(COUNT, SEED):
            with poison.build(case["build"]):
                view = judged(case, met)
            out.write(json.dumps({**case, "view": canonical(view)}) + "\n")
    done = client_build.run(["tests/support/poison_twin.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert not found["differ"], "\n".join(found["differ"][:5])
    assert found["cases"] == COUNT
    assert found["quick"] > COUNT // 4, "the quick way after a tap was tried too seldom to mean something"
    assert min(met[what] for what in ("envelope", "data", "field", "parked", "voided", "fixed")) > COUNT // 20, met


def judged(case: dict[str, Any], met: Counter[str]) -> dict[str, Any]:
    """The view, once it is certain that order does not matter and that what was set aside changed nothing."""
    events = [replay(raw, "") for raw in case["log"]]
    view = fold(events)
    shuffled = random.Random(case["n"]).sample(events, len(events))
    assert canonical(fold([*shuffled, *shuffled[:3]])) == canonical(view), case["n"]
    without = fold(spared(events, view))
    assert {**without, **{part: view[part] for part in MOVES_NOTHING}} == view, case["n"]
    sound = set(case["sound"])
    assert not sound & {row["ev"] for row in view["aside"]} - corrected(events), case["n"]
    met.update(row["why"] for row in view["aside"])
    met.update({"parked": len(view["parked"]), "voided": len(view["voided"]), "fixed": len(corrected(events))})
    return view


def spared(events: list[Event], view: dict[str, Any]) -> list[Event]:
    """All but what waits and what was set aside; a link somebody names stays, for it leads on to what it is about."""
    named = {text(content(event), "of") for event in events}
    gone = {row["ev"] for row in view["aside"]} | set(view["parked"])
    return [
        event for event in events if event["id"] not in gone or (event["id"] in named and event.get("kind") in CHAINS)
    ]


def corrected(events: list[Event]) -> set[str]:
    return {text(content(event), "of") for event in events if event.get("kind") == "correct"}
