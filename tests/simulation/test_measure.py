"""The measures themselves, on lives written by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from .measure import (
    Share,
    asked_often,
    bands,
    contradictions,
    errors,
    false_a_month,
    false_days,
    named,
    share_named,
    told_over_wrongly,
)
from .rows import Row

LEVEL = Row(
    farm="1|0",
    doe="doe",
    day=0,
    state="dry, early",
    regime="good",
    good=True,
    scored=True,
    gest=50,
    dim=-1,
    kg=50.0,
    condition=3.0,
    true_pm=1000,
    could_pm=1000,
    today_pm=1000,
    dense_pm=1000,
    short_d=0,
    pm=1000,
    lo=800,
    hi=1200,
    need_pm=1000,
    st="level",
    days=7,
    code="",
    witness="",
    in_pen=False,
    pen="pen",
    pen_code="",
    apart=False,
)
SHORT = replace(LEVEL, true_pm=700, could_pm=700, today_pm=700, dense_pm=700, pm=700)


def life(days: int, short_from: int = 99, said: dict[int, str] | None = None, **over: Any) -> list[Row]:
    """Level days, truly short from one on, and what was on screen from each day named to the next."""
    found, code = list[Row](), ""
    for day in range(days):
        code = (said or {}).get(day, code)
        base = SHORT if day >= short_from else LEVEL
        found.append(replace(base, day=day, short_d=max(0, day - short_from + 1), code=code, **over))
    return found


def test_short_named_within_five_days_of_its_fifth_counts_and_later_does_not() -> None:
    in_time, late = life(28, 10, {19: "energy_short"}), life(28, 10, {20: "energy_short"})
    assert share_named(named(in_time)) == Share(1, 1)
    assert share_named(named(late)) == Share(0, 1)


def test_score_her_and_a_mineral_are_not_the_cautious_act() -> None:
    for code in ("score_her", "calcium_short", "protein_short", "energy_over"):
        assert share_named(named(life(28, 10, {5: code}))) == Share(0, 1)
    for code in ("net_cut_late", "condition_ahead_low", "condition_thin", "energy_heading_short"):
        assert share_named(named(life(28, 10, {5: code}))) == Share(1, 1)


def test_a_word_gone_before_it_was_short_does_not_count() -> None:
    assert share_named(named(life(28, 10, {2: "energy_short", 4: ""}))) == Share(0, 1)


def test_a_stretch_that_began_before_the_first_look_has_five_days_from_it() -> None:
    days = [replace(SHORT, day=day, short_d=day + 9) for day in range(28)]
    assert share_named(named(days)) == Share(0, 1)
    days[5] = replace(days[5], code="energy_short")
    assert share_named(named(days)) == Share(1, 1)


def test_a_stretch_too_near_the_end_is_not_held_against_it() -> None:
    assert share_named(named(life(18, 10))) == Share(0, 0)
    assert share_named(named(life(20, 10))) == Share(0, 1)


def test_a_fat_doe_before_day_100_may_be_fed_less() -> None:
    assert share_named(named(life(28, 5, condition=3.6))) == Share(0, 0)
    assert share_named(named(life(28, 5, condition=3.6, gest=110))) == Share(0, 1)


def test_four_days_short_are_no_stretch() -> None:
    days = life(28)
    for k in range(10, 14):
        days[k] = replace(SHORT, day=k, short_d=k - 9)
    assert share_named(named(days)) == Share(0, 0)


def test_over_is_wrong_at_105_per_cent_and_right_above_it_or_fat() -> None:
    said = {0: "energy_over"}
    assert told_over_wrongly(life(10, 99, said, true_pm=1050)) == Share(10, 10)
    assert told_over_wrongly(life(10, 99, said, true_pm=1051)) == Share(0, 10)
    assert told_over_wrongly(life(10, 99, said, true_pm=900, condition=3.5)) == Share(0, 10)
    assert told_over_wrongly(life(10, 99, said, true_pm=1300, condition=2.5)) == Share(10, 10)


def test_heading_over_is_right_where_she_comes_to_be_over() -> None:
    days = life(10, 99, {0: "energy_heading_over", 4: ""})
    assert told_over_wrongly(days) == Share(4, 10)
    days[-1] = replace(days[-1], true_pm=1100)
    assert told_over_wrongly(days) == Share(0, 10)


def test_a_false_word_is_an_episode_once_and_every_day_a_day() -> None:
    days = life(30, 99, {3: "energy_short", 9: "", 20: "energy_over", 22: ""})
    assert false_days(days).n == 8
    assert false_a_month(days).n == 2
    assert false_a_month(days).of == 30 / 30.4


def test_a_word_before_she_is_truly_short_is_no_false_one() -> None:
    assert false_days(life(30, 15, {9: "energy_short"})).n == 0
    assert false_days(life(30, 15, {0: "energy_short", 5: ""})).n == 5


def test_a_doe_who_eats_all_of_a_hay_too_poor_for_her_is_rightly_told_short() -> None:
    assert false_days(life(10, 99, {0: "energy_short"}, true_pm=600, dense_pm=850)).n == 0
    assert false_days(life(10, 99, {0: "energy_short"}, true_pm=600, dense_pm=950)).n == 10


def test_asked_anew_within_a_fortnight_is_too_often_and_standing_on_is_not() -> None:
    assert asked_often(life(28, 99, {1: "score_her"})) == Share(0, 1)
    assert asked_often(life(28, 99, {1: "score_her", 3: "", 10: "score_her", 11: ""})) == Share(1, 1)
    assert asked_often(life(28, 99, {1: "score_her", 3: "", 20: "score_her", 21: ""})) == Share(0, 1)


def test_bands_count_days_with_enough_confirmed_only() -> None:
    days = [LEVEL, replace(LEVEL, true_pm=799), replace(LEVEL, true_pm=1201), replace(LEVEL, days=4, true_pm=1)]
    held = bands(days)
    assert (held.inside, held.below, held.above) == (Share(1, 3), Share(1, 3), Share(1, 3))


def test_an_error_falls_into_need_and_supply() -> None:
    """Need stated 10 % high and food 10 % low: the ratio is off by both."""
    day = replace(LEVEL, true_pm=1000, need_pm=1105, pm=819)
    need, _, eaten, _ = errors([day])
    assert (round(need), round(eaten)) == (10, 10)


def test_a_pen_told_more_and_a_doe_told_less_are_against_each_other() -> None:
    days = [
        replace(LEVEL, pen_code="energy_short", code=code) for code in ("energy_over", "condition_fat", "energy_short")
    ]
    assert contradictions([*days, LEVEL]) == Share(2, 3)
    assert contradictions([replace(day, apart=True) for day in days]) == Share(0, 3)
