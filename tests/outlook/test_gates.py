"""What is said of a ration before it is saved: named does who must hear it, and ones who must not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, late, one_doe
from tests.support.log import Log
from tests.support.one_doe import OneDoe
from tests.support.outlooks import book, outlook

BRED_ON = "2026-08-01"
GRASS, ALFALFA, BARLEY = "orchardgrass_hay", "alfalfa_hay_mid", "barley_grain"
MEALS = ("morning", "evening")
STANDARD = {"size": "standard", "breed": "grade", "born_on": "2021-03-01", "kiddings_before": 3}
MINI = {"size": "mini", "breed": "nigerian_dwarf", "born_on": "2022-03-01", "kiddings_before": 2}
STEP_G = {"standard": 100, "mini": 60}


def doe_on_grass(day: int, grain_g: int = 0, mini: bool = False) -> OneDoe:
    """On plain grass hay twice a day and so much barley in the morning for the last twelve days."""
    kg, fields = (30, MINI) if mini else (60, STANDARD)
    doe = OneDoe(BRED_ON, kg * 1000, 5, 2, mature_kg=kg, **fields)
    for slot in MEALS:
        doe.plan("pen", slot, GRASS, (day - 12, 600 if mini else 1000))
    if grain_g:
        doe.plan("doe", "morning", BARLEY, (day - 12, grain_g))
    doe.fed_as_planned(day - 12, day - 1)
    doe.scored(300, day - 10)
    return doe


def gate(doe: OneDoe, day: int, feed: str, slots: tuple[str, ...], *steps: tuple[int, int], to: str = "doe") -> Any:
    dated = [[doe.on(on), g] for on, g in steps]
    change = {"subject": to, "feed": feed, "slots": list(slots), "steps": dated}
    return doe.farm(day).ask("gate", change)


def codes(found: dict[str, Any]) -> list[str]:
    return [one["code"] for one in found["findings"]]


def test_from_nothing_to_three_hundred_grams_twice_is_named_and_the_safe_steps_are_offered() -> None:
    doe = doe_on_grass(60)
    found = gate(doe, 60, BARLEY, MEALS, (60, 300))
    assert codes(found)[0] == "grain_jump"
    # 600 g as fed of 88 to 89 % dry matter, from nothing; a step of hers is 100 g of dry grain
    args = found["findings"][0]["args"]
    assert (args["from"], args["limit"]) == (0, STEP_G["standard"])
    assert 580 <= args["g"] <= 610
    assert found["safe"][0] == [doe.on(61), 50]
    amounts = [g for _, g in found["safe"]]
    assert (amounts[-1], amounts) == (300, sorted(amounts))
    rises = [b - a for a, b in zip([0, *amounts], amounts, strict=False)]
    assert max(rises) * 2 <= STEP_G["standard"]
    dates = [on for on, _ in found["safe"]]
    assert all(shift(a, 3) <= b for a, b in zip(dates, dates[1:], strict=False))
    assert gate(doe, 60, BARLEY, MEALS, (61, 50))["findings"] == []


@pytest.mark.parametrize("mini", [False, True])
def test_one_step_of_hers_is_saved_without_a_word(mini: bool) -> None:
    doe = doe_on_grass(60, 100, mini)
    step = STEP_G["mini" if mini else "standard"]
    assert gate(doe, 60, BARLEY, ("morning",), (60, 100 + step))["findings"] == []
    assert codes(gate(doe, 60, BARLEY, ("morning",), (60, 100 + step * 2))) == ["grain_jump"]


def test_two_steps_a_day_apart_are_too_soon_and_three_days_apart_are_not() -> None:
    doe = doe_on_grass(60, 100)
    assert codes(gate(doe, 60, BARLEY, ("morning",), (61, 200), (62, 300))) == ["grain_fast"]
    assert gate(doe, 60, BARLEY, ("morning",), (61, 200), (64, 300))["findings"] == []


def test_two_grams_over_a_step_is_no_jump() -> None:
    doe = doe_on_grass(60, 100)
    assert gate(doe, 60, BARLEY, ("morning",), (60, 202))["findings"] == []


def test_over_the_most_for_one_meal_is_named_and_split_over_two_it_is_not() -> None:
    doe = doe_on_grass(60, 400)
    found = gate(doe, 60, BARLEY, ("morning",), (61, 480))
    assert codes(found) == ["grain_meal"]
    assert gate(doe, 60, BARLEY, ("evening",), (61, 80))["findings"] == []


def test_all_grass_to_sole_alfalfa_overnight_at_fifteen_days_to_go() -> None:
    """As a keeper does it: alfalfa in, then grass out; the second entry is the switch."""
    doe = doe_on_grass(132)
    found = gate(doe, 132, ALFALFA, MEALS, (132, 1000), to="pen")
    assert "hay_switch" in codes(found)
    for slot in MEALS:
        doe.plan("pen", slot, ALFALFA, (132, 1000))
    found = gate(doe, 132, GRASS, MEALS, (133, 0), to="pen")
    assert {"hay_switch", "calcium_rise"} <= {*codes(found)}


def test_the_same_switch_by_quarters_over_a_week_passes_early_on() -> None:
    doe = doe_on_grass(60)
    found = gate(doe, 60, ALFALFA, MEALS, (61, 1000), to="pen")
    assert codes(found) == ["hay_switch"]
    assert found["left"] == []
    assert [g for _, g in found["safe"]][-1] == 1000
    assert len(found["safe"]) >= 4
    day_of = {doe.on(day): day for day in range(60, 90)}
    steps = [(day_of[on], g) for on, g in found["safe"]]
    assert gate(doe, 60, ALFALFA, MEALS, *steps, to="pen")["findings"] == []


def test_a_fifth_of_alfalfa_put_into_the_feeder_is_no_switch() -> None:
    doe = doe_on_grass(60)
    assert gate(doe, 60, ALFALFA, MEALS, (60, 200), to="pen")["findings"] == []


def test_legume_taken_from_a_doe_near_kidding_is_a_fall_of_calcium() -> None:
    doe = doe_on_grass(130)
    for slot in MEALS:
        doe.plan("pen", slot, ALFALFA, (118, 400))
    doe.fed_as_planned(118, 129)
    assert "calcium_fall" in codes(gate(doe, 130, ALFALFA, MEALS, (131, 100), to="pen"))
    early = doe_on_grass(60)
    for slot in MEALS:
        early.plan("pen", slot, ALFALFA, (48, 400))
    early.fed_as_planned(48, 59)
    assert "calcium_fall" not in codes(gate(early, 60, ALFALFA, MEALS, (61, 300), to="pen"))


def test_a_rise_of_calcium_to_her_need_is_never_asked_about() -> None:
    """Safety rule: a fall is gated, a rise to need is not."""
    doe = doe_on_grass(130)
    assert codes(gate(doe, 130, ALFALFA, MEALS, (131, 150), to="pen")) == []


def test_a_cut_late_is_named_and_the_same_cut_early_is_not() -> None:
    late_doe, early_doe = doe_on_grass(120), doe_on_grass(60)
    assert codes(gate(late_doe, 120, GRASS, MEALS, (122, 600), to="pen")) == ["late_cut"]
    assert codes(gate(early_doe, 60, GRASS, MEALS, (62, 600), to="pen")) == []
    assert codes(gate(late_doe, 120, GRASS, MEALS, (122, 1100), to="pen")) == []


def test_hay_taken_out_altogether_is_a_cut() -> None:
    assert "late_cut" in codes(gate(doe_on_grass(120), 120, GRASS, MEALS, (121, 0), to="pen"))


def flat(log: Log, change: dict[str, Any], branches: dict[str, Any] | None = None) -> dict[str, Any]:
    view = fold(log.events)
    looks = {id: outlook(id, TODAY, branches) for id in view["does"]}
    found: dict[str, Any] = FarmDay(view, looks, book(), TODAY).ask("gate", change)
    return found


def test_each_doe_at_a_shared_feeder_is_looked_at() -> None:
    log = one_doe(own=False)
    log.record("doe", "moss", name="Moss", size="standard")
    log.add("moved", "moss", {"pen": "p"}, "2026-01-01")
    log.add("bred", "moss", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    change = {"subject": "p", "feed": "hay", "slots": ["morning"], "steps": [[shift(TODAY, 1), 800]]}
    found = flat(log, change, late())
    assert [(one["code"], one["does"]) for one in found["findings"]] == [("late_cut", ["fern", "moss"])]


def test_a_bag_nobody_has_said_the_class_of_may_be_grain() -> None:
    log = one_doe()
    log.record("feed", "bag", name="Blue bag")
    change = {"subject": "fern", "feed": "bag", "slots": ["morning"], "steps": [[TODAY, 300]]}
    assert [one["code"] for one in flat(log, change)["findings"]] == ["class_unknown"]
    change["steps"] = [[TODAY, 20]]
    assert flat(log, change)["findings"] == []


def test_a_doe_without_numbers_is_judged_by_nobody() -> None:
    log = one_doe()
    change = {"subject": "fern", "feed": "barley", "slots": ["morning"], "steps": [[TODAY, 900]]}
    view = fold(log.events)
    assert FarmDay(view, {}, book(), TODAY).ask("gate", change) == {
        "findings": [],
        "safe": [],
        "left": [],
        "beside": None,
    }


def test_a_quarter_of_her_scoop_over_a_step_is_still_one_and_no_more_than_a_quarter_of_a_step() -> None:
    """Step 100 g of dry grain; barley is as dry as that. A scoop of 80 g: 20 g more; of 400 g: 25; floors cost 2."""
    for scoop_g, most in ((80, 118), (400, 123)):
        log = one_doe()
        log.record("scoop", "s", name="Red", feed="barley", order=1)
        log.add("calibration", "s", {"of": "scoop", "fills_g": [scoop_g] * 5, "lot": ""}, shift(TODAY, -3))
        log.ration("fern", "evening", "barley", ("2026-09-01", 20))
        for on in (shift(TODAY, -k) for k in range(1, 8)):
            log.fed("p", on, "evening", ("fern", "barley", 20))
        for g, said in ((20 + most, []), (20 + most + 4, ["grain_jump"])):
            change = {"subject": "fern", "feed": "barley", "slots": ["evening"], "steps": [[shift(TODAY, 1), g]]}
            assert [one["code"] for one in flat(log, change)["findings"]] == said, (scoop_g, g)


@pytest.mark.parametrize(("grain_g", "said"), [(2500, "grain_jump"), (80, "")])
def test_grain_into_a_feeder_is_grain_all_the_same(grain_g: int, said: str) -> None:
    """It counts against steps and limits by the head, though nobody knows who eats it."""
    found = codes(gate(doe_on_grass(60), 60, BARLEY, ("morning",), (60, grain_g), to="pen"))
    assert (said in found) if said else (found == [])


def test_grain_eaten_from_a_shared_feeder_is_a_jump_too() -> None:
    doe = doe_on_grass(60)
    doe.log.fed("pen", doe.on(60), "morning", ("", BARLEY, 1500))
    assert str(doe.result(60)["prompt"]["code"]).startswith(("overload", "grain", "step"))


def test_a_jump_is_named_though_the_scoop_is_to_be_weighed_first() -> None:
    """The raise waits for the weight, and then it comes whole."""
    doe = doe_on_grass(60, 100)
    doe.log.record("scoop", "cup", name="Tin cup", feed=BARLEY, gone=False)
    doe.log.add("calibration", "cup", {"of": "scoop", "fills_g": [50, 51, 49, 50, 50], "lot": ""}, doe.on(30))
    doe.log.add("new_bag", "farm", {"feed": BARLEY}, doe.on(55))
    found = gate(doe, 60, BARLEY, ("morning",), (61, 400))
    assert codes(found) == ["grain_jump"]
    amounts = [g for _, g in found["safe"]]
    assert amounts[0] - 100 <= STEP_G["standard"] + 12
    assert len(amounts) > 2


def test_grain_after_kidding_rises_by_her_steps_though_the_scoop_is_to_be_weighed_first() -> None:
    doe = doe_on_grass(140, 300)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2, "timed": True}, doe.on(150), v=2)
    doe.plan("doe", "morning", BARLEY, (128, 300))
    doe.fed_as_planned(140, 155)
    doe.log.record("scoop", "cup", name="Tin cup", feed=BARLEY, gone=False)
    doe.log.add("calibration", "cup", {"of": "scoop", "fills_g": [50, 51, 49, 50, 50], "lot": ""}, doe.on(120))
    doe.log.add("new_bag", "farm", {"feed": BARLEY}, doe.on(153))
    plan = doe.farm(156).ask("fresh_plan", "doe")
    steps = [g for _, g in plan["lines"][0]["steps"]]
    rises = [b - a for a, b in zip([300, *steps], steps, strict=False)]
    assert len(steps) > 1
    assert max(rises) * len(plan["lines"]) <= STEP_G["standard"] + 12
