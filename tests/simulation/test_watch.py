"""The watch on simulated kiddings, a sample of what `python -m tests.simulation watch --does 10000` goes through."""

from __future__ import annotations

from datetime import date, timedelta
from functools import cache
from typing import Any

import numpy as np
import pytest

from herd.outlook.book import compile_book
from herd.outlook.compiling.due import day_chances_of
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import RULES
from herd.state.fold import fold
from tests.support.flat_doe import one_doe
from tests.support.thorough import THOROUGH

from .watch import (
    DAY_H,
    GAPS_H,
    MEAN_D,
    ONE_SERVICE,
    SD_D,
    Known,
    Rounds,
    begin_h,
    closest_h,
    dates,
    herd,
    in_rounds,
    learned,
    our_gap,
    watched,
)
from .watch_report import ENOUGH, FIXED_H, LIMIT_H, calibrations, labours, same_looks
from .watch_truth import SIGNS, Kidding

SEED = 101
DOES = 3000 if THOROUGH else 720
HOUR_MS = 3_600_000
BRED = date(2026, 6, 1)
BOOK = dict(compile_book({"rules": {"f": {}}, "feeds": {}, "lots": {}}))


@cache
def does() -> tuple[Kidding, ...]:
    return tuple(herd(SEED, DOES))


@cache
def ours() -> tuple[Rounds, ...]:
    return tuple(watched(doe, LIMIT_H) for doe in does())


@pytest.mark.parametrize("place", range(3))
def test_what_is_said_comes_true_as_often_and_better_than_by_her_dates(place: int) -> None:
    found = calibrations(ours())[place]
    assert len([one for one in found.bins if one.does >= ENOUGH]) >= 6
    assert found.farthest <= 0.10, found
    assert found.brier < 0.9 * found.by_dates, found


def test_fewer_labours_are_alone_too_long_than_by_fixed_rounds_with_as_many_looks() -> None:
    found = labours(ours())
    every_h, fixed = same_looks(does(), found.looks)
    assert LIMIT_H < every_h <= FIXED_H
    assert found.alone <= 2 / 3 * labours(fixed).alone
    assert found.alone <= 2 / 3 * labours([in_rounds(doe, FIXED_H) for doe in does()]).alone


@pytest.mark.parametrize("limit_h", [float(RULES["unattended_h"].default), 6.0])
def test_the_usual_limit_keeps_a_third_more_from_being_alone_with_as_many_looks(limit_h: float) -> None:
    """Also where a farm leaves more: signs set the looks close enough. Alone too long is two hours, as it is usual."""
    rounds = ours() if limit_h == LIMIT_H else tuple(watched(doe, limit_h) for doe in does()[: DOES // 5])
    found = labours(rounds)
    _, fixed = same_looks(does()[: len(rounds)], found.looks)
    assert found.alone <= 2 / 3 * labours(fixed).alone


def test_two_hours_as_the_limit_cost_hardly_a_look_more_than_six() -> None:
    some = does()[: DOES // 5]
    two, six = (labours([watched(doe, limit_h) for doe in some]) for limit_h in (2.0, 6.0))
    assert two.looks < 1.03 * six.looks
    assert two.alone <= six.alone


def gap_on_a_phone(rows: list[tuple[float, list[str]]], unattended_h: int) -> float:
    """Hours from the last look to the next, as the evaluator has it."""
    skipped, ppm = day_chances_of(ONE_SERVICE, MEAN_D, SD_D)
    at = [BRED.toordinal() * DAY_H * HOUR_MS + round(hours * HOUR_MS) for hours, _ in rows]
    day = BRED + timedelta(days=int(rows[-1][0] // DAY_H))
    view = fold(one_doe().events)
    view["does"]["fern"]["signs"] = [
        [ms, found, [sign for sign in SIGNS if sign not in found], "ada", "ev", day.isoformat()]
        for ms, (_, found) in zip(at, rows, strict=True)
    ]
    due: dict[str, Any] = {"day0": (BRED + timedelta(days=skipped)).isoformat(), "ppm": list(ppm)}
    book = {**BOOK, "rules": {**BOOK["rules"], "unattended_h": unattended_h}}
    farm = FarmDay(view, {"fern": {"due": due}}, book, day.isoformat())
    clock = {"day": day.isoformat(), "minute": round(rows[-1][0] % DAY_H * 60), "ms": at[-1]}
    look = farm.ask("watch_at", "fern", clock)
    return float((look["due_ms"] - at[-1]) / HOUR_MS)


def test_the_gaps_simulated_are_those_of_a_phone() -> None:
    """Half an hour apart at most: a phone's tables are whole numbers, and its points lie farther apart."""
    seen, apart = set(), []
    for doe in does()[:25]:
        known: dict[str, Known] = {}
        rows: list[tuple[float, list[str]]] = []
        at_h = begin_h()
        while at_h < doe.labour_h:
            rows.append((at_h, doe.look(at_h)))
            known = learned(known, rows[-1][1], at_h)
            gap = our_gap(at_h, known, LIMIT_H, close_h=closest_h(rows))
            if doe.labour_h - at_h < 30:
                apart.append(abs(gap - gap_on_a_phone(rows, int(LIMIT_H))))
                seen.add(gap)
            at_h += gap
    assert len(seen) > 2
    assert max(apart) <= 0.5
    assert np.mean(apart) < 0.05


def test_no_gap_is_longer_than_practice_has_it_nor_shorter_than_its_shortest() -> None:
    first_h, _ = dates()
    quiet: dict[str, Known] = {}
    for hours in range(0, 400, 7):
        quiet = learned(quiet, [], first_h + hours)
        assert GAPS_H["close"] <= our_gap(first_h + hours, quiet, LIMIT_H) <= GAPS_H["quiet"]
