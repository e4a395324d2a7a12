"""Found carrying, and nobody knows since when: no amounts, never an open doe's; the date she was bred brings them."""

from __future__ import annotations

from datetime import date
from typing import Any

from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import evaluate
from herd.outlook.rules import rules_of
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days
from tests.support.log import Log
from tests.support.outlooks import book


def fat_and_fed() -> Log:
    """On grain enough for twins, at a score that an open doe would be slimmed from."""
    log = Log()
    log.record("doe", "ivy", name="Ivy", size="standard", kiddings_before=2)
    log.pen("p", "ivy")
    log.add("score", "ivy", {"x100": 350}, TODAY)
    log.ration("p", "morning", "hay", ("2026-09-01", 3200))
    for on in days(8):
        log.fed("p", on, "morning", ("", "hay", 3200))
    return log


def compiled(log: Log) -> dict[str, Any]:
    return dict(compile_doe(fold(log.events)["does"]["ivy"], rules_of({}), date.fromisoformat(TODAY), "ivy"))


def told(log: Log, look: dict[str, Any]) -> dict[str, Any]:
    made: dict[str, Any] = evaluate(fold(log.events), {"ivy": look}, book(), TODAY)["does"]["ivy"]
    return made


def test_carrying_without_a_date_she_is_given_no_amounts_and_asked_for_the_date() -> None:
    log = fat_and_fed()
    log.add("preg_check", "ivy", {"result": "pregnant", "kids": 0, "how": "look"}, TODAY)
    made = compiled(log)
    assert [(one["why"], one["name"]) for one in made["withheld"]] == [("missing", "bred_on")]
    assert made["branches"] == {}
    assert told(log, made)["standing"] == "withheld"


def test_found_carrying_on_a_phone_without_a_signal_the_open_does_amounts_are_not_hers() -> None:
    log = fat_and_fed()
    before = compiled(log)
    assert told(log, before)["standing"] == "ok"
    log.add("preg_check", "ivy", {"result": "pregnant", "kids": 0, "how": "look"}, TODAY)
    after = told(log, before)
    assert after["standing"] == "waiting"
    assert after["prompt"] is None or "energy" not in after["prompt"]["code"]


def test_the_date_she_was_bred_brings_her_amounts() -> None:
    log = fat_and_fed()
    log.add("bred", "ivy", {"from_on": "2026-07-04", "to_on": "2026-07-25", "how": "pen", "buck": ""}, "2026-07-25")
    log.add("preg_check", "ivy", {"result": "pregnant", "kids": 0, "how": "look"}, TODAY)
    made = compiled(log)
    assert made["withheld"] == []
    assert "as_is" in made["branches"]
