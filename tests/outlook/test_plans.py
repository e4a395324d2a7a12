"""Drying off, close-up and the grain after kidding as plans: they pass every gate, and what is said after is not
against them. Does of all sizes are taken through four weeks by the real compiler, fold and evaluation."""

from __future__ import annotations

from itertools import product
from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from tests.support.act_farm import BARLEY, FED_D, GRASS, LEGUME, barn
from tests.support.plan_farm import carrier, fresh, milker
from tests.support.some_does import MEALS, MINIATURE, STANDARD, TODAY, SomeDoes, days_from_today, word

KINDS = {30: MINIATURE, 45: STANDARD, 60: STANDARD}
DRY = [(kg, gest) for kg, gest in product(KINDS, (66, 72, 80, 95, 108))]
CLOSE = [(kg, gest, kids) for kg, gest, kids in product(KINDS, (126, 132, 140), (1, 2, 3))]
FRESH = [(kg, since) for kg, since in product(KINDS, (1, 5, 12))]
# Of these none may follow from a plan of ours.
AGAINST = {
    *("grain_meal_big", "grain_day_big", "step_big", "step_planned_big", "steps_too_fast", "grain_share_big"),
    *("grain_jump_back", "net_cut_late", "forage_switch_planned", "calcium_over", "calcium_heading_over", "ca_p_low"),
    "energy_over",
}


def drying(kg: int, gest: int) -> SomeDoes:
    does = barn()
    milker(does, "fern", kg, gest, "north", milk_g=30 * kg, grain_g=10 * kg, hay_g=45 * kg, **KINDS[kg])
    does.fed_as_planned(-FED_D, 0)
    return does


def close(kg: int, gest: int, kids: int) -> SomeDoes:
    does = barn()
    carrier(does, "fern", kg, gest, kids, "north", hay_g=38 * kg, **KINDS[kg])
    does.fed_as_planned(-FED_D, 0)
    return does


def kidded(kg: int, since: int) -> SomeDoes:
    does = barn()
    fresh(does, "fern", kg, since, "north", grain_g=6 * kg, hay_g=45 * kg, **KINDS[kg])
    does.fed_as_planned(-FED_D, 0)
    return does


def asked(does: SomeDoes, of: str) -> dict[str, Any]:
    return dict(does.farm().ask(f"{of}_plan", "fern"))


def legume_g(farm: FarmDay, on: str) -> int:
    """In the feeder, a day."""
    lines = [line for slot in MEALS for line in farm.ask("subject_lines", "north", on, slot)]
    return sum(g for feed, g in lines if feed == LEGUME)


def put_in(does: SomeDoes, plan: dict[str, Any]) -> None:
    """What the one tap writes."""
    does.adopt({"lines": plan["lines"], "code": plan["code"], "brings": plan["brings"] or {}})
    if plan["code"] == "plan_dry":
        does.log.add("dry_plan", "fern", {"last_on": plan["last_on"], "way": plan["way"]}, TODAY)


def said(does: SomeDoes, plan: dict[str, Any], days: int) -> set[str]:
    """Everything that is told of her first, day by day along the plan."""
    last = days_from_today(plan["last_on"]) if plan["code"] == "plan_dry" else 99
    heard = set()
    for day in range(1, days + 1):
        does.fed_as_planned(day, day)
        if day == last + 1:
            does.log.add("dried_off", "fern", {}, does.on(day))
        heard.add(word(does.farm(day), "fern"))
    return heard


@pytest.mark.parametrize(("kg", "gest"), DRY)
def test_a_plan_to_dry_her_off_passes_every_gate_and_nobody_is_told_to_feed_it_back(kg: int, gest: int) -> None:
    does = drying(kg, gest)
    plan = asked(does, "dry")
    assert plan["lines"]
    assert does.farm().ask("warned", plan["lines"]) == []
    put_in(does, plan)
    heard = said(does, plan, 28)
    assert heard & (AGAINST | {"energy_heading_short"}) == set()


@pytest.mark.parametrize(("kg", "gest"), DRY)
def test_calcium_never_falls_before_milk(kg: int, gest: int) -> None:
    does = drying(kg, gest)
    plan = asked(does, "dry")
    hay = [line for line in plan["lines"] if line["feed"] == LEGUME]
    assert hay
    assert min(on for line in hay for on, _ in line["steps"]) > plan["last_on"]
    before = does.farm()
    # while she is milked she finds as much calcium in her hay as before
    held = legume_g(before, TODAY)
    put_in(does, plan)
    days = range(1, days_from_today(plan["last_on"]) + 1)
    assert {legume_g(does.farm(), does.on(day)) for day in days} == {held}
    assert legume_g(does.farm(), shift(plan["last_on"], 14)) < held


@pytest.mark.parametrize(("kg", "gest"), DRY)
def test_grain_goes_first_then_milkings_unless_it_is_late(kg: int, gest: int) -> None:
    plan = asked(drying(kg, gest), "dry")
    grain = [on for line in plan["lines"] if line["feed"] == BARLEY for on, _ in line["steps"]]
    assert min(grain) <= plan["milkings"][0][0] or plan["milkings"][0][0] == TODAY
    assert plan["after"] or max(grain) <= plan["last_on"]
    # her close-up begins within the week: what she would get by then stays
    left = [line["steps"][-1][1] for line in plan["lines"] if line["feed"] == BARLEY]
    assert all(g > 0 for g in left) if plan["keeps_g"] else all(g == 0 for g in left)
    assert plan["keeps_g"] > 0 if gest == 108 else not plan["keeps_g"] or plan["after"]
    assert gest < 85 or plan["by"] == "late"


def test_her_owners_day_is_her_dry_off_day() -> None:
    does = drying(60, 66)
    plan = asked(does, "dry")
    day = shift(plan["last_on"], 10)
    does.log.add("dry_plan", "fern", {"last_on": day, "way": "abrupt"}, TODAY)
    moved = asked(does, "dry")
    assert (moved["last_on"], moved["by"], moved["way"], moved["milkings"]) == (day, "own", "abrupt", [])
    milk = [does.farm().ask("milk_on", "fern", shift(day, ahead)) for ahead in (0, 1)]
    assert milk[0] > 0
    assert milk[1] == 0


def test_a_day_that_passed_while_she_is_milked_on_is_no_dry_off() -> None:
    does = drying(60, 80)
    does.log.add("dry_plan", "fern", {"last_on": does.on(-10), "way": ""}, does.on(-12))
    assert does.farm().ask("milk_on", "fern", TODAY) > 0


def test_milking_on_is_said_with_the_days_that_are_left() -> None:
    assert asked(drying(30, 108), "dry")["dry_d"] < 28


@pytest.mark.parametrize(("kg", "gest", "kids"), CLOSE)
def test_a_plan_up_to_kidding_passes_every_gate(kg: int, gest: int, kids: int) -> None:
    does = close(kg, gest, kids)
    plan = asked(does, "close_up")
    assert plan["none"] == ""
    assert plan["lines"]
    assert does.farm().ask("warned", plan["lines"]) == []
    put_in(does, plan)
    due = does.farm().ask("results")["does"]["fern"]["due"]["mid"]
    assert said(does, plan, min(28, days_from_today(due) - 1)) & AGAINST == set()


@pytest.mark.parametrize(("kg", "gest", "kids"), CLOSE)
def test_its_steps_are_hers_and_no_larger(kg: int, gest: int, kids: int) -> None:
    does = close(kg, gest, kids)
    plan = asked(does, "close_up")
    step_g, every_d = (60, 3) if kg == 30 else (100, 3)
    grain = [line["steps"] for line in plan["lines"] if line["feed"] == BARLEY]
    by_day = [sum(steps[i][1] for steps in grain) for i in range(len(grain[0]))]
    assert all(after - before <= step_g * 1.1 for before, after in zip([0, *by_day], by_day, strict=False))
    days = [days_from_today(on) for on, _ in grain[0]]
    assert all(after - before >= every_d for before, after in zip(days, days[1:], strict=False))
    assert by_day[-1] <= plan["aim_g"] * 1.1


def test_too_late_for_all_of_them_is_said() -> None:
    plan = asked(close(60, 140, 3), "close_up")
    assert plan["steps"] > plan["fit"]
    assert plan["short"] in ("days", "gate")
    assert plan["loss_g"] > 500


def test_legume_is_held_back_under_a_vets_rule() -> None:
    does = close(60, 126, 2)
    does.log.add("rules", "farm", {"f": {"calcium_before_kidding": 2}, "base": {"calcium_before_kidding": ""}}, TODAY)
    assert LEGUME not in [line["feed"] for line in asked(does, "close_up")["lines"]]


@pytest.mark.parametrize(("kg", "since"), FRESH)
def test_grain_after_kidding_passes_every_gate_and_never_on_her_first_days(kg: int, since: int) -> None:
    does = kidded(kg, since)
    plan = asked(does, "fresh")
    assert plan["none"] == ""
    assert does.farm().ask("warned", plan["lines"]) == []
    assert days_from_today(plan["first_on"]) >= max(1, 3 - since)
    put_in(does, plan)
    assert said(does, plan, 28) & AGAINST == set()


def test_it_goes_by_the_farms_own_milk_for_grain() -> None:
    does = kidded(45, 5)
    by_three = asked(does, "fresh")["aim_g"]
    does.log.add("rules", "farm", {"f": {"milk_per_grain_x10": 60}, "base": {"milk_per_grain_x10": ""}}, TODAY)
    assert asked(does, "fresh")["aim_g"] < by_three


@pytest.mark.parametrize("of", ["close_up", "fresh"])
def test_a_freeze_holds_the_steps_and_its_end_frees_them(of: str) -> None:
    does = close(60, 126, 2) if of == "close_up" else kidded(60, 5)
    plan = asked(does, of)
    put_in(does, plan)
    grain = [line for line in plan["lines"] if line["feed"] == BARLEY][0]
    planned = [on for on, _ in grain["steps"]]
    until = does.on(2)
    does.log.add("freeze", "fern", {"until_on": until, "grain_out": False, "of": ""}, TODAY, "evening")
    farm = does.farm()
    held = [g for feed, g in farm.ask("subject_lines", "fern", planned[0], grain["slot"]) if feed == BARLEY]
    assert held == ([grain["from_g"]] if grain["from_g"] else [])
    moved = [g for feed, g in farm.ask("subject_lines", "fern", shift(planned[0], 3), grain["slot"]) if feed == BARLEY]
    assert moved == [grain["steps"][0][1]]
    assert asked(does, of)["held_on"] == until


def test_a_doe_that_shares_her_feeder_keeps_its_legume() -> None:
    does = drying(60, 72)
    carrier(does, "clover", 60, 60, 2, "north", hay_g=2600, **STANDARD)
    does.fed_as_planned(-FED_D, 0)
    plan = asked(does, "dry")
    assert plan["shared"] == "north"
    # two eat from what is hay for one: none of it goes, and more is put in as her grain does
    feeder = [line for line in plan["lines"] if line["subject"] == "north"]
    assert all(line["steps"][-1][1] > line["from_g"] for line in feeder)


def test_nothing_is_planned_for_who_is_in_another_stretch() -> None:
    farm = close(60, 126, 2).farm()
    assert farm.ask("dry_plan", "fern") is None
    assert farm.ask("fresh_plan", "fern") is None
    assert kidded(60, 5).farm().ask("close_up_plan", "fern") is None


def test_grass_takes_the_place_of_what_goes() -> None:
    plan = asked(drying(60, 66), "dry")
    up = [line for line in plan["lines"] if line["feed"] == GRASS]
    assert up
    assert all(line["steps"][-1][1] > line["from_g"] for line in up)
