"""Plans of a year's stretches followed for four weeks as a phone does, with what befalls a doe meanwhile: no step is
larger or sooner than hers whatever waited, nobody beside her pays for it, and what is told of her is not against it."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_plans import AGAINST
from tests.support.act_farm import BARLEY, LEGUME
from tests.support.plans_aloud import asked, fed, followed, takes_it
from tests.support.stretch_does import STRETCHES, Stretch, close, dry, kids, left_meal, milk, ramp, shared, soft_dung

SUMS = {"energy_short", "protein_short", "phosphorus_short"}
WAITED = {
    "fresh scoop weighed late": STRETCHES["fresh scoop weighed late"],
    "close scoop weighed late": STRETCHES["close scoop weighed late"],
    "close off feed twice": lambda: close(60, 124, 2, hap={6: left_meal, 11: left_meal}),
    "fresh soft dung twice": lambda: ramp(60, 2, milk_g=3000, hap={5: soft_dung, 9: left_meal, 14: soft_dung}),
    "kids before her steps are in": STRETCHES["close kids early"],
    "kids, and nobody plans anew": lambda: kidded_unplanned(),
}


def kidded_unplanned() -> Stretch:
    """The plan toward kidding is put in, and nothing after it."""
    one = close(60, 130, 2, hap={7: kids(2), 11: milk(2600)})
    one.only = "close_up"
    return one


def grain(days: list[dict[str, Any]]) -> list[int]:
    return [day["ate"]["fern"].get("grain_g", 0) for day in days]


def said(days: list[dict[str, Any]], name: str = "fern") -> list[str]:
    prompts = [day["results"]["does"][name]["prompt"] for day in days]
    return [prompt["code"] if prompt else "" for prompt in prompts]


@pytest.mark.parametrize("name", WAITED)
def test_what_waited_never_comes_at_once(name: str) -> None:
    days = followed(WAITED[name]())
    eaten = grain(days)
    rises = [n for n, (before, after) in enumerate(zip(eaten, eaten[1:], strict=False)) if after - before > 15]
    assert all(eaten[n + 1] - eaten[n] <= 110 for n in rises)
    assert all(after - before >= 3 for before, after in zip(rises, rises[1:], strict=False))
    assert set(said(days)) & AGAINST == set()
    assert name == "kids, and nobody plans anew" or rises


def test_a_wait_after_a_wait_raises_nothing_while_it_lasts() -> None:
    eaten = grain(followed(WAITED["close off feed twice"]()))
    assert eaten[5] == eaten[6] == eaten[7]
    assert eaten[10] == eaten[11] == eaten[12]


def test_steps_toward_kidding_end_with_it() -> None:
    eaten = grain(followed(kidded_unplanned()))
    assert eaten[7] > 0
    assert set(eaten[7:]) == {eaten[7]}


def test_hay_that_goes_up_with_the_grain_waits_with_it() -> None:
    one = close(60, 124, 3, hap={4: soft_dung, 5: soft_dung, 6: soft_dung})
    days = followed(one)
    legume = [
        sum(
            g
            for slot in ("morning", "evening")
            for feed, g in one.does.farm(28).ask("subject_lines", "fern", day["on"], slot)
            if feed == LEGUME
        )
        for day in days
    ]
    assert legume[3] == legume[7] or legume[4] == legume[7]
    assert max(legume) > legume[7]


@pytest.mark.parametrize(
    "make",
    [
        lambda: dry(30, 66),
        lambda: dry(65, 78, milk_g=4200),
        lambda: dry(50, 80, milk_g=500),
        STRETCHES["dry by exposure"],
    ],
)
def test_drying_off_is_not_answered_with_more_feed(make: Any) -> None:
    assert set(said(followed(make()))) & SUMS == set()


def test_who_is_dried_off_is_held_against_her_own_milk() -> None:
    """Half a kilogram a day, where her breed gives two: the days before her last milking were no hunger."""
    one = dry(50, 80, milk_g=500)
    one.does.fed_as_planned(-60, 0)
    before = one.does.farm().ask("milk_on", "fern", shift(one.does.on(0), -4))
    one.does.log.add("dried_off", "fern", {}, one.does.on(0))
    after = one.does.farm().ask("milk_on", "fern", shift(one.does.on(0), -4))
    assert abs(before - after) < 0.3 * before


def test_grain_that_close_up_asks_for_soon_stays() -> None:
    plan = asked(*_ready(dry(30, 110, milk_g=900)))
    assert plan["keeps_g"] > 0
    assert all(line["steps"][-1][1] > 0 for line in plan["lines"] if line["feed"] == BARLEY)


def test_a_thin_doe_keeps_her_legume() -> None:
    plan = asked(*_ready(dry(60, 74, score=225)))
    assert plan["thin"]
    assert LEGUME not in {line["feed"] for line in plan["lines"]}
    assert LEGUME in {line["feed"] for line in asked(*_ready(dry(60, 74)))["lines"]}


def test_calcium_lasts_until_she_kids() -> None:
    one = close(60, 128, 2, grain=300)
    plan = asked(*_ready(one))
    takes_it(one, 0, plan)
    farm = one.does.farm()
    mid = farm.ask("results")["does"]["fern"]["due"]["mid"]
    sums = farm.ask("day_sums", "fern", shift(mid, -1), True)
    assert sums["got"]["ca"] >= 0.9 * sums["need"]["ca"]


def test_calcium_follows_milk_up() -> None:
    one = ramp(80, 2, milk_g=5500)
    plan = asked(*_ready(one))
    assert plan["legume"] == LEGUME
    last = max(on for line in plan["lines"] for on, _ in line["steps"])
    takes_it(one, 0, plan)
    sums = one.does.farm().ask("day_sums", "fern", last, True)
    assert sums["got"]["ca"] >= 0.97 * sums["need"]["ca"]


def test_steps_end_where_her_milk_does() -> None:
    one = ramp(55, 2, milk_g=1200)
    one.does.fed_as_planned(-60, -1)
    takes_it(one, 0, asked(one, one.does.farm()))
    for day in range(14):
        if day in one.hap:
            one.hap[day](one.does, day)
        fed(one.does, day)
    page = asked(one, one.does.farm(13))
    assert page["short"] == "milk"
    told = one.does.farm(13).ask("results")["does"]["fern"]["prompt"]
    assert (told["code"], told["args"]["state"]) == ("steps_ahead", "milk")
    one.does.adopt({"lines": page["lines"], "code": page["code"], "brings": {}}, 13)
    by_plan = [one.does.farm(13).ask("eaten_on", "fern", one.does.on(ahead), True)["day_g"] for ahead in range(13, 30)]
    assert set(by_plan) == {by_plan[0]}
    assert page["to_g"] > by_plan[0]


def test_who_eats_beside_her_is_not_robbed() -> None:
    """Her grain goes, so she eats more of a feeder that holds too little for four."""
    one = shared("dry", 7000)
    plan = asked(*_ready(one))
    assert {mate["doe"] for mate in plan["mates"]} == {"hazel", "olive"}
    assert plan["mended"]
    assert "north" in {line["subject"] for line in plan["lines"]}
    assert one.does.farm().ask("warned", plan["lines"]) == []
    before = sums(one, "hazel")
    takes_it(one, 0, plan)
    assert sums(one, "hazel") >= before - 30


def test_nothing_is_said_of_mates_who_have_enough() -> None:
    plan = asked(*_ready(shared("dry", 9000)))
    assert plan["mates"] == []
    assert {line["subject"] for line in plan["lines"]} == {"fern"}


def test_grain_in_a_feeder_for_several_is_named() -> None:
    one = shared("dry")
    one.does.given("north", **{BARLEY: 400})
    assert asked(*_ready(one))["shared_grain"] == "north"


@pytest.mark.parametrize(("gest", "none"), [(140, ""), (160, "overdue")])
def test_past_her_last_date_no_step_is_offered(gest: int, none: str) -> None:
    page = asked(*_ready(close(60, gest, 2)))
    assert page["none"] == none
    assert bool(page["lines"]) == (none == "")


def test_on_the_last_days_no_step_fits() -> None:
    page = asked(*_ready(close(60, 152, 2)))
    assert page["short"] == "days"
    assert page["fit"] == 0
    assert page["lines"] == []


def test_steps_that_do_not_reach_are_said_too_late() -> None:
    """Four of her steps fit, and by her tin they come to 320 of 400 g."""
    page = asked(*_ready(close(60, 134, 1)))
    assert page["short"] == "days"
    assert page["to_g"] < page["aim_g"]
    assert page["fit"] < page["steps"]


def _ready(one: Stretch) -> Any:
    one.does.fed_as_planned(-60, 0)
    return one, one.does.farm()


def sums(one: Stretch, name: str) -> int:
    """Permille of need on the day she has no grain left."""
    found = one.does.farm().ask("day_sums", name, one.does.on(14), True)
    return round(1000 * found["got"]["me"] / found["need"]["me"])
