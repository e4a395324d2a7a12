"""What the fold asks of an entry, in both languages, and what it does with one it stops on."""

from __future__ import annotations

import json
from typing import Any

import pytest

from herd.services.wire import replay
from herd.state import fold as folding
from herd.state.kinds import KINDS, RECORDS
from herd.state.order import Event
from herd.state.payloads import FORMS
from herd.state.readable import CONTENT, readable
from herd.state.upcast import upcast
from tests.support.log import Log
from tests.support.paths import ROOT

GOLDEN = sorted((ROOT / "tests/vectors/events").glob("*.json"))


def test_every_kind_but_a_record_says_what_it_is_made_of() -> None:
    assert CONTENT.keys() == KINDS.keys() - set(RECORDS)


def test_nothing_is_asked_for_that_a_new_entry_need_not_carry() -> None:
    for kind in CONTENT.keys() & {name for name, _ in FORMS}:
        asked = {field.split(":")[0] for field in CONTENT[kind].split()}
        assert asked <= FORMS[kind, KINDS[kind].newest].keys(), kind


@pytest.mark.parametrize("path", GOLDEN, ids=lambda path: path.stem)
def test_every_version_ever_shipped_is_read(path: Any) -> None:
    assert readable(upcast(json.loads(path.read_text())["event"]))


def test_a_whole_number_written_with_a_point_is_one_as_on_a_phone() -> None:
    assert replay('{"data":{"g":[2.0,-0.0,2.5,1e2]}}', "")["data"]["g"] == [2, 0, 2.5, 100]
    assert type(replay('{"v":1.0}', "")["v"]) is int


def test_an_entry_the_fold_stops_on_is_set_aside_and_leaves_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    log = Log()
    log.record("doe", "fern", name="Fern")
    log.score("fern", "2026-11-01", 300)
    want = folding.fold(log.events)
    stops = log.add("fed", "fern", {"lines": [{"to": "", "feed": "hay", "g": 5}], "adds": False})
    real = folding.feeding_of

    def stopping(event: Event) -> dict[str, Any]:
        if event["id"] == stops:
            raise ZeroDivisionError
        return real(event)

    monkeypatch.setattr(folding, "feeding_of", stopping)
    view = folding.fold(log.events)
    assert view["aside"] == [{"ev": stops, "kind": "fed", "why": "stopped"}]
    assert {**view, "aside": []} == want


def test_a_fault_that_is_no_entrys_is_not_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(feedings: list[dict[str, Any]]) -> dict[str, list[str]]:
        raise ZeroDivisionError

    monkeypatch.setattr(folding, "twice_fed", broken)
    with pytest.raises(ZeroDivisionError):
        folding.fold([])
