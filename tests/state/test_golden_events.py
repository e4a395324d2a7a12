"""Every version of every kind ever shipped stays readable. These events are never edited; a new version adds one."""

from __future__ import annotations

import json

import pytest

from herd.state.envelope import problem_of
from herd.state.kinds import KINDS
from herd.state.upcast import upcast
from tests.support.paths import ROOT

FILES = sorted((ROOT / "tests/vectors/events").glob("*.json"))


def test_every_kind_and_version_has_its_file() -> None:
    wanted = {f"{kind.name}.v{version}" for kind in KINDS.values() for version in kind.versions}
    assert {path.stem for path in FILES} == wanted


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_a_golden_event_is_accepted_and_read_in_todays_form(path) -> None:
    golden = json.loads(path.read_text())
    assert problem_of(golden["event"]) is None
    now = upcast(golden["event"])
    assert {"v": now["v"], "data": now["data"]} == golden["today"]
    assert now["v"] == KINDS[now["kind"]].newest
    assert upcast(now) == now


def test_a_correction_in_an_old_form_is_read_in_todays() -> None:
    old = {"kind": "correct", "v": 1, "data": {"of": "x", "data": {"kg_x10": 300}}}
    assert upcast(old)["data"]["data"]["g"] == 30_000
    assert old["data"]["data"] == {"kg_x10": 300}
