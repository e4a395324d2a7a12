"""A buck: no ration advice, nothing compiled, off feed like anybody; what makes no sense for him changes nothing."""

from __future__ import annotations

import json
from datetime import date
from typing import Any

from herd.outlook.compile import compile_doe
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay, evaluate
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook


def with_buck() -> Log:
    """Fern and a buck on one feeder."""
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.record("doe", "rex", name="Rex", sex="buck", size="standard")
    log.pen("p", "fern", "rex")
    log.ration("p", "morning", "hay", ("2026-09-01", 3200))
    for on in days(8):
        log.fed("p", on, "morning", ("", "hay", 3200))
    return log


def nonsense(log: Log) -> None:
    log.add("bred", "rex", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    log.add("preg_check", "rex", {"result": "pregnant", "kids": 3, "how": "scan"}, "2026-10-20")
    log.add("dried_off", "rex", {}, "2026-10-25")
    log.add("udder", "rex", {"fill": 3, "uneven": False}, TODAY)
    log.add("signs", "rex", {"seen": ["pawing"], "absent": []}, TODAY)
    log.add("milk", "rex", {"g": 900, "fat_x100": 0}, TODAY)
    log.add("kidded", "rex", {"born": 2, "alive": 2}, TODAY)


def compiled(log: Log) -> dict[str, Any]:
    return dict(compile_doe(fold(log.events)["does"]["rex"], rules_of({}), date.fromisoformat(TODAY), "rex"))


def test_nothing_is_compiled_for_him_and_it_says_why() -> None:
    log = with_buck()
    for wrong in (False, True):
        if wrong:
            nonsense(log)
        made = compiled(log)
        assert made["withheld"] == [{"line": "amounts", "why": "buck", "name": "sex", "value": 0, "low": 0, "high": 0}]
        assert (made["branches"], made["steps"], made["season"]["me_kj"]) == ({}, [], [])
        assert "NaN" not in json.dumps(made)


def judged(log: Log, looks: dict[str, Any]) -> dict[str, Any]:
    basis = dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), "")
    fern = outlook("fern", TODAY, {"as_is": branch(gest=-1, phase=0, lane=3)}, due=None, basis=basis)
    return evaluate(fold(log.events), {"fern": fern, **looks}, book(), TODAY)


def test_he_is_a_buck_whatever_was_recorded_or_compiled_before() -> None:
    log = with_buck()
    for looks in ({}, {"rex": compiled(log)}, {"rex": outlook("rex", TODAY)}):
        said = judged(log, looks)["does"]["rex"]
        assert (said["standing"], said["phase"], said["lines"], said["prompt"]) == ("buck", -1, {}, None)
        assert (said["daily"], said["risk"], said["due"]) == (False, None, None)
    nonsense(log)
    said = judged(log, {"rex": outlook("rex", TODAY)})["does"]["rex"]
    assert (said["standing"], said["prompt"], said["off_feed"]) == ("buck", None, None)


def test_he_takes_nothing_from_the_sums_of_the_does_beside_him() -> None:
    """No appetite is known for him, so the pen's hay is hers on paper with him as without him."""
    log = with_buck()
    before = judged(log, {})["does"]["fern"]["lines"]["me"]["got"]
    assert judged(log, {"rex": outlook("rex", TODAY)})["does"]["fern"]["lines"]["me"]["got"] == before
    assert before > 0


def test_off_feed_works_for_him() -> None:
    log = with_buck()
    log.intake("rex", TODAY, "morning", "refused")
    said = judged(log, {})["does"]["rex"]
    assert (said["prompt"]["code"], said["prompt"]["args"]["stage"]) == ("off_feed_now", "buck")
    log.intake("rex", TODAY, "evening", "not_up")
    said = judged(log, {})["does"]["rex"]
    assert (said["prompt"]["code"], said["prompt"]["args"]["urgency"], said["down"]) == (
        "off_feed_vet",
        "vet_now",
        True,
    )


def test_he_has_no_manger_line() -> None:
    view = fold(with_buck().events)
    farm = FarmDay(view, {"rex": outlook("rex", TODAY)}, book(), TODAY)
    assert {tuple(row[1:4]) for row in farm.ask("manger_line", "rex", 3, 3)} == {(-1, 0, 0)}
    assert farm.ask("manger_line", "rex", 0, 0)[0][0] == shift(TODAY, 0)
