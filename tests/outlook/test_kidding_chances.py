"""The chances near kidding on a phone, in whole numbers, are those of the exact form within a point."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from herd.outlook.book import compile_book
from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import FarmDay
from herd.outlook.learned import Learned
from herd.science.dates.near_kidding import within
from herd.science.dates.signs import SIGNS, Lead
from herd.state.fold import fold
from tests.support.compiled import MINI, STANDARD, TODAY, bred, folded
from tests.support.flat_doe import one_doe
from tests.support.near_kidding import HOUR_MS, Dates, Row, findings_of
from tests.support.thorough import THOROUGH

NOW_MS = 1_800_000_000_000
HOURS = (12, 24, 48)
CASES = 600 if THOROUGH else 60
BOOK = compile_book({"rules": {"f": {}}, "feeds": {}, "lots": {}})


def asked(due: dict[str, Any], rows: list[Row], minute: int, book: Any = BOOK) -> dict[str, Any] | None:
    view = fold(one_doe().events)
    view["does"]["fern"]["signs"] = [[at, seen, absent, "ada", "ev", TODAY.isoformat()] for at, seen, absent in rows]
    farm = FarmDay(view, {"fern": {"due": due, "basis": {}}}, dict(book), TODAY.isoformat())
    found: dict[str, Any] | None = farm.ask(
        "chances_at", "fern", {"day": TODAY.isoformat(), "minute": minute, "ms": NOW_MS}
    )
    return found


def due_of(age_d: int, window_d: int = 1, f: dict[str, Any] = STANDARD) -> dict[str, Any]:
    made = compile_doe(folded(f, bred=bred(age_d, window_d)), {}, TODAY, "doe")["due"]
    assert made is not None
    return dict(made)


def exact(due: dict[str, Any], rows: list[Row], minute: int, own: dict[str, Lead] | None = None) -> list[float]:
    begun_h = 24 * days_from(due["day0"]) + minute / 60
    found = [replace(one, own=(own or {}).get(one.sign)) for one in findings_of(rows, NOW_MS)]
    ahead = Dates(due["ppm"]).ahead(begun_h, found)
    return [within(hours, ahead) for hours in HOURS]


def days_from(day0: str) -> int:
    return (TODAY - date.fromisoformat(day0)).days


def looks(dice: random.Random) -> list[Row]:
    """Up to six looks of the last days, each naming some signs."""
    ago = sorted((dice.uniform(0, dice.choice((4, 30, 200))) for _ in range(dice.randrange(7))), reverse=True)
    rows: list[Row] = []
    for hours in ago:
        named = dice.sample(SIGNS, dice.randrange(5))
        seen = [sign for sign in named if dice.random() < 0.5]
        rows.append((NOW_MS - round(hours * HOUR_MS), seen, [sign for sign in named if sign not in seen]))
    return rows


@pytest.mark.parametrize("seed", range(CASES))
def test_a_phone_and_the_exact_form_are_a_point_apart_at_most(seed: int) -> None:
    dice = random.Random(seed)
    due = due_of(dice.randrange(138, 154), dice.choice((1, 1, 20)), dice.choice((STANDARD, MINI)))
    rows, minute = looks(dice), dice.randrange(1440)
    found = asked(due, rows, minute)
    assert found is not None
    ours, theirs = [pct / 100 for _, pct in found["hours"]], exact(due, rows, minute)
    assert all(abs(a - b) <= 0.01 + 0.005 for a, b in zip(ours, theirs, strict=True)), (ours, theirs, rows)


LEADS = (("ligaments_gone", Lead(30.0, 0.6, 0.95), 14), ("udder_full", Lead(48.0, 0.9, 0.8), 20))
OWN = compile_book({"rules": {"f": {}}, "feeds": {}, "lots": {}}, Learned(LEADS))


@pytest.mark.parametrize("seed", range(CASES // 3))
def test_so_they_are_where_the_farm_has_timings_of_its_own(seed: int) -> None:
    dice = random.Random(1000 + seed)
    due, (rows, minute) = due_of(dice.randrange(143, 154)), (looks(dice), dice.randrange(1440))
    gone: Row = (NOW_MS - 3 * HOUR_MS, ["ligaments_gone"], [])
    found = asked(due, [*rows, gone], minute, OWN)
    assert found is not None
    theirs = exact(due, [*rows, gone], minute, {sign: lead for sign, lead, _ in LEADS})
    assert all(abs(pct / 100 - b) <= 0.015 for (_, pct), b in zip(found["hours"], theirs, strict=True))


def test_a_sign_that_comes_early_on_this_farm_says_less_of_tonight() -> None:
    gone: Row = (NOW_MS, ["ligaments_gone"], [])
    ours, own = (asked(due_of(149), [gone], 1300, book) for book in (BOOK, OWN))
    assert ours is not None
    assert own is not None
    assert own["hours"][0][1] < ours["hours"][0][1] - 4
    assert (BOOK["signs"]["own"], OWN["signs"]["own"]["ligaments_gone"]) == ({}, [14, 1800])


def test_her_date_goes_by_how_long_they_carry_here() -> None:
    alpine = Learned(lengths=(("alpine", 153.0, 2.4, 20), ("nigerian_dwarf", 146.0, 2.6, 9)))
    ours, own, other = (
        compile_doe(folded(f, bred=bred(100)), {}, TODAY, "doe", learned)
        for f, learned in ((STANDARD, Learned()), (STANDARD, alpine), ({**STANDARD, "breed": "nubian"}, alpine))
    )
    assert ours["due"] is not None
    assert own["due"] is not None
    assert days_between(ours["due"]["mid"], own["due"]["mid"]) == 2
    assert ("farm_length" in ours["assumed"], "farm_length" in own["assumed"]) == (False, True)
    assert "farm_length" not in other["assumed"]


def test_her_dates_add_up_and_begin_where_she_may_kid() -> None:
    for window in (1, 20, 60):
        due = due_of(140, window)
        assert sum(due["ppm"]) == pytest.approx(1_000_000, abs=len(due["ppm"]))
        assert due["day0"] < due["early"] < due["late"]
        at = days_between(due["day0"], due["mid"])
        assert sum(due["ppm"][:at]) == pytest.approx(500_000, abs=90_000)


def days_between(first: str, last: str) -> int:
    return days_from(first) - days_from(last)


def test_past_all_her_dates_nothing_is_said() -> None:
    assert asked(due_of(162), [], 600) is None


def test_no_chance_is_out_of_the_question_or_sure() -> None:
    early, late = asked(due_of(138), [], 0), asked(due_of(158), [(NOW_MS, ["mucus_amber", "pawing"], [])], 0)
    assert early is not None
    assert late is not None
    assert early["hours"][0] == [12, 1]
    assert late["hours"][2] == [48, 95]


def test_a_sign_that_is_not_there_puts_it_off_and_a_new_one_brings_it_nearer() -> None:
    felt: Row = (NOW_MS - 8 * HOUR_MS, [], ["ligaments_gone"])
    gone: Row = (NOW_MS, ["ligaments_gone"], [])
    none, off, near = (asked(due_of(150), rows, 1300) for rows in ([], [felt], [felt, gone]))
    assert none is not None
    assert off is not None
    assert near is not None
    assert off["hours"][0][1] < none["hours"][0][1] < near["hours"][0][1]
    assert off["signs"][0]["points"] < 0 < near["signs"][0]["points"]
    assert (near["signs"][0]["how"], near["signs"][0]["gap_h"]) == ("new", 12)
