"""A seeded sample of the table. The long one: python -m tests.simulation"""

from __future__ import annotations

import pytest

from .acts import run_acts
from .acts_report import acts_table
from .grid import run
from .leads import NEVER, SCENARIOS, lead_table, run_lead
from .measure import bands, contradictions, false_a_month, named, share_named, told_over_wrongly
from .report import about, grid_table
from .rows import Row

SEED, DOES = 101, 60


@pytest.fixture(scope="module")
def rows() -> list[Row]:
    return run([SEED], DOES)


@pytest.mark.slow
def test_the_grid_is_judged(rows: list[Row]) -> None:
    print(f"{about(rows)}\n{grid_table(rows)}")
    assert len({(row.farm, row.doe) for row in rows}) == DOES
    found = named(rows)
    assert len(found) > 8
    assert {one.at.scored for one in found} == {True, False}
    assert share_named(found).pct >= 75
    assert told_over_wrongly(rows).of == len(rows)
    assert told_over_wrongly(rows).pct <= 2
    assert false_a_month([row for row in rows if row.good]).pct <= 30
    assert contradictions(rows).pct <= 2


@pytest.mark.slow
def test_the_stated_bands_hold_about_as_often_as_they_say(rows: list[Row]) -> None:
    held = bands(row for row in rows if row.good)
    assert held.inside.of > 500
    assert 70 <= held.inside.pct <= 90


@pytest.mark.slow
def test_lead_times_are_measured_in_every_state() -> None:
    leads = [run_lead(SEED, 0, scenario, state) for scenario, states in SCENARIOS.items() for state in states]
    print(lead_table(leads))
    falling = [one for one in leads if one.scenario != "milk rising"]
    assert all(one.passed_90 < NEVER for one in falling)
    assert all(one.step in (10, NEVER) for one in leads)


@pytest.mark.slow
def test_acts_are_asked_checked_and_followed() -> None:
    cases = run_acts([SEED], 24)
    print(acts_table(cases))
    assert any(case.found for case in cases)
    followed = [case for case in cases if case.followed]
    assert followed
    assert max(len(case.said) for case in followed) == 29
