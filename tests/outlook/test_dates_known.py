"""Her dates go by all that was recorded of this pregnancy, and by her own kiddings before."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest

from herd.outlook.compile import compile_doe
from herd.state.fold import fold
from tests.support.compiled import STANDARD, TODAY, aged, ago, bred, folded, marked, scanned, served
from tests.support.log import Log


def dates(**state: Any) -> dict[str, str]:
    found = compile_doe(folded(STANDARD, check=scanned(2), **state), {}, TODAY, "doe")["due"]
    assert found
    return dict(found)


def span_d(due: dict[str, str]) -> int:
    return (date.fromisoformat(due["late"]) - date.fromisoformat(due["early"])).days


def notes(**state: Any) -> list[str]:
    return list(compile_doe(folded(STANDARD, check=scanned(2), **state), {}, TODAY, "doe")["assumed"])


def test_the_mark_of_the_buck_narrows_three_weeks_with_him() -> None:
    plain, known = dates(bred=bred(70, 22)), dates(bred=bred(70, 22), heats=[marked(62)])
    assert span_d(known) < span_d(plain) - 6
    alone = dates(bred=bred(62))
    assert abs((date.fromisoformat(known["mid"]) - date.fromisoformat(alone["mid"])).days) <= 1


def test_a_scan_with_an_age_narrows_them_too() -> None:
    plain, known = dates(bred=bred(90, 42)), dates(bred=bred(90, 42), checks=[aged(50, 20)])
    assert span_d(known) < span_d(plain) - 10


def test_a_service_seen_while_the_buck_was_in_is_the_one_her_dates_hang_on() -> None:
    rows = {"services": [served(70, 22), served(60)], "bred": {**bred(70, 22), "how": "hand"}}
    assert dates(**rows)["mid"] == dates(bred=bred(60))["mid"]


def test_two_phones_dates_of_one_service_stay_a_window() -> None:
    rows = {"services": [served(60), served(58)], "bred": {**bred(60, 3), "how": "hand"}}
    both = dates(**rows)
    assert dates(bred=bred(60))["early"] <= both["early"] <= both["late"] <= dates(bred=bred(58))["late"]
    assert "service_window" in notes(**rows)


def test_served_again_goes_by_the_later_until_a_scan_says_the_earlier() -> None:
    again = {"services": [served(61), served(40)], "bred": bred(40)}
    later, alone = dates(**again), dates(bred=bred(40))
    assert {name: later[name] for name in ("mid", "late", "printed")} == {
        name: alone[name] for name in ("mid", "late", "printed")
    }
    assert span_d(alone) <= span_d(later) <= span_d(alone) + 2
    seen = dates(**again, checks=[aged(60, 1)])
    assert abs((date.fromisoformat(seen["mid"]) - date.fromisoformat(dates(bred=bred(61))["mid"])).days) <= 1


def test_what_was_seen_before_she_was_open_or_kidded_is_of_no_pregnancy_of_now() -> None:
    stale = {"services": [served(70), served(40)], "heats": [marked(70)], "checks": [aged(20, 50)]}
    assert dates(bred=bred(40), **stale, open_on=ago(45)) == dates(bred=bred(40))


def test_a_scan_that_fits_no_service_is_believed_and_said() -> None:
    apart = {"bred": bred(80), "checks": [aged(40, 5)]}
    assert "scan_apart" in notes(**apart)
    assert "scan_apart" not in notes(bred=bred(80), checks=[aged(74, 5)])
    assert dates(**apart)["early"] > dates(bred=bred(80))["late"]


def test_a_scan_of_another_year_moves_nothing() -> None:
    assert dates(bred=bred(40), checks=[aged(150, 5)]) == dates(bred=bred(40))


def test_her_own_kiddings_draw_her_date_from_three_on() -> None:
    long = [{"from": ago(d), "to": ago(d), "on": ago(d - 157), "ev": "k"} for d in (1250, 890, 520)]
    loose = [{**row, "from": ago(1300)} for row in long[:1]]
    assert dates(bred=bred(60), gestations=long[:2]) == dates(bred=bred(60))
    assert dates(bred=bred(60), gestations=[*long[:2], *loose]) == dates(bred=bred(60))
    later = date.fromisoformat(dates(bred=bred(60), gestations=long)["mid"])
    assert later - date.fromisoformat(dates(bred=bred(60))["mid"]) in (timedelta(1), timedelta(2))


def test_a_buck_still_in_makes_her_window_grow_until_he_is_written_out() -> None:
    """Written down on his fifth day: at the fortieth her dates reach as far as those of forty days with him."""
    log = Log()
    log.record("doe", "fern", **STANDARD)
    put = {"from_on": ago(40), "to_on": ago(36), "how": "pen", "buck": "Thistle"}
    log.add("bred", "fern", {**put, "still": True}, ago(40))
    still = fold(log.events)["does"]["fern"]
    assert (still["bred"]["to"], still["bred"]["still"], still["services"][0]["still"]) == (ago(36), True, True)
    due = [
        compile_doe(
            {**still, "bred": bred, "services": [{**row, **given} for row in still["services"]]}, {}, TODAY, "d"
        )
        for bred, given in (
            (still["bred"], {}),
            ({**bred_row(40, 0), "ev": still["bred"]["ev"]}, {"to": ago(0), "still": False}),
            ({**bred_row(40, 36), "ev": still["bred"]["ev"]}, {"still": False}),
        )
    ]
    open_ended, to_today, five_days = (dict(one["due"] or {}) for one in due)
    assert open_ended == to_today
    assert span_d(open_ended) > span_d(five_days) + 10
    log.add("bred", "fern", {**put, "to_on": ago(10)}, ago(40))
    out = fold(log.events)["does"]["fern"]
    assert (out["bred"]["to"], "still" in out["bred"]) == (ago(10), False)
    assert dict(compile_doe(out, {}, TODAY, "d")["due"] or {})["late"] < open_ended["late"]


def bred_row(first_ago: int, last_ago: int) -> dict[str, Any]:
    return {"from": ago(first_ago), "to": ago(last_ago), "how": "pen", "on": ago(first_ago)}


@pytest.mark.parametrize("on", ["2028-02-29", "2027-10-02", "2027-03-27", "2026-10-24"])
def test_dates_are_counted_in_calendar_days_over_a_leap_day_and_a_clock_change(on: str) -> None:
    """An Alpine not counted: day 151 after her service, whatever the clocks do meanwhile."""
    log = Log()
    log.record("doe", "fern", **STANDARD)
    log.add("bred", "fern", {"from_on": on, "to_on": on, "how": "hand", "buck": ""}, on)
    doe = fold(log.events)["does"]["fern"]
    due = compile_doe(doe, {}, date.fromisoformat(on) + timedelta(days=60), "fern")["due"]
    assert due
    assert (date.fromisoformat(due["mid"]) - date.fromisoformat(on)).days == 151


def test_a_row_an_older_build_folded_is_dated_by_her_service() -> None:
    doe = folded(STANDARD, bred=bred(60), check=scanned(2))
    old = {name: part for name, part in doe.items() if name not in LATELY}
    assert compile_doe(old, {}, TODAY, "doe")["due"] == compile_doe(doe, {}, TODAY, "doe")["due"]


LATELY = ("services", "heats", "checks", "gestations", "open_on")
