"""Grain eaten in a jump, at the feeder or out of the bin: who must hear of it, in what words, and who must not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, held, one_doe, result
from tests.support.log import Log
from tests.support.one_doe import OneDoe, code
from tests.support.outlooks import book

BRED_ON = "2026-08-01"
GRASS, BARLEY = "orchardgrass_hay", "barley_grain"
MEALS = ("morning", "evening")
STANDARD = {"size": "standard", "breed": "grade", "born_on": "2021-03-01", "kiddings_before": 3}


def doe_on_barley(*amounts: tuple[int, int], until: int = 60) -> OneDoe:
    """60 kg, day 60, plain hay to appetite; barley a day from each day on, half at each milking, fed as planned."""
    doe = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    for slot in MEALS:
        doe.plan("pen", slot, GRASS, (40, 900))
        doe.plan("doe", slot, BARLEY, *((day, g // 2) for day, g in amounts))
    doe.fed_as_planned(40, until)
    doe.scored(300, 50)
    return doe


def got_into(doe: OneDoe, day: int, g: int | None, feed: str = BARLEY) -> None:
    doe.log.add("got_into", "doe", {"feed": feed, "g": g}, doe.on(day), "evening")


def test_grain_nobody_knows_the_amount_of_is_for_the_vet_before_any_sign() -> None:
    doe = doe_on_barley((40, 100))
    got_into(doe, 60, None)
    prompt = doe.result(60)["prompt"]
    assert (prompt["code"], prompt["rank"], prompt["args"]["what"]) == ("grain_overload_vet", 1, "unknown")


@pytest.mark.parametrize(("g", "word"), [(1200, "grain_overload_vet"), (600, "grain_jump_back")])
def test_fifteen_grams_a_kilogram_of_her_is_the_vets(g: int, word: str) -> None:
    """About 900 g of dry grain for 60 kg."""
    doe = doe_on_barley((40, 100))
    got_into(doe, 60, g)
    assert code(doe.result(60)) == word


def test_of_a_doe_without_a_weight_and_of_a_buck_any_amount_is_the_vets() -> None:
    log = one_doe()
    log.record("doe", "bert", name="Bert", sex="buck")
    for id in ("fern", "bert"):
        log.add("got_into", id, {"feed": "", "g": 200}, TODAY)
    said = evaluate(fold(log.events), {}, book(), TODAY)["does"]
    assert [said[id]["prompt"]["code"] for id in ("fern", "bert")] == ["grain_overload_vet"] * 2


def test_what_was_taken_back_or_is_three_days_past_says_nothing_more() -> None:
    log = one_doe()
    held(log)
    got = log.add("got_into", "fern", {"feed": "", "g": None}, shift(TODAY, -3))
    assert (result(log)["prompt"] or {}).get("code") != "grain_overload_vet"
    got = log.add("got_into", "fern", {"feed": "", "g": None}, TODAY)
    assert result(log)["prompt"]["code"] == "grain_overload_vet"
    log.add("void", "fern", {"of": got})
    assert (result(log)["prompt"] or {}).get("code") != "grain_overload_vet"


def test_once_the_vet_is_called_she_is_looked_at_at_six_twelve_a_day_and_two_days() -> None:
    log = one_doe()
    held(log)
    log.add("got_into", "fern", {"feed": "", "g": None}, TODAY)
    at = log.events[-1]["happened"]
    asked = dict.fromkeys(("new_feed", "water_bad", "bullied", "suspect"), "")
    log.add("triage", "fern", {"of": "", **asked, "result": "vet_called"}, TODAY, "evening")
    said = result(log)["prompt"]
    assert (said["code"], said["args"]["recheck_ms"]) == ("grain_jump_back", at + 12 * 3_600_000)


def jump(**after: Any) -> OneDoe:
    return doe_on_barley((40, 100), (59, 500), **after)


def test_a_jump_that_was_fed_goes_back_and_is_never_stay_here_three_days() -> None:
    """100 g a day, then 500 g: 400 g beyond, under 15 g a kilogram; the energy comes back as hay."""
    prompt = jump().result(60)["prompt"]
    assert prompt["code"] == "grain_jump_back"
    args = prompt["args"]
    assert 90 <= args["limit"] <= 110
    assert 380 <= args["g"] <= 420
    # 400 g of grain at 12.7 MJ, hay at 8.7: 580 g, and as much water in both
    assert 500 <= args["hay_g"] <= 650
    assert args["recheck_ms"] > 0


def test_soft_dung_after_a_jump_is_the_vets() -> None:
    doe = jump()
    seen = {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", "cud": "", "legs": "", "eyes": 0, "udder": "", "belly": ""}
    doe.log.add("checkup", "doe", {**seen, "dung": "loose"}, doe.on(60), "late", v=2)
    prompt = doe.result(60)["prompt"]
    assert (prompt["code"], prompt["args"]["what"]) == ("grain_overload_vet", "signs")


def test_five_clean_days_on_an_amount_make_it_hers_and_a_refusal_starts_them_anew() -> None:
    assert code(doe_on_barley((40, 100), (56, 350)).result(60)) != "grain_jump_back"
    assert code(doe_on_barley((40, 100), (57, 350)).result(60)) == "grain_jump_back"
    doe = doe_on_barley((40, 100), (56, 350))
    doe.log.intake("doe", doe.on(58), "morning", "refused")
    doe.log.intake("doe", doe.on(59), "morning", "ate_all")
    assert code(doe.result(60)) == "grain_jump_back"


def test_steps_of_hers_and_a_day_without_grain_are_no_jump() -> None:
    assert code(doe_on_barley((40, 100), (52, 200), (55, 300), (58, 400)).result(60)) != "grain_jump_back"
    doe = doe_on_barley((40, 300), (58, 0), (59, 300))
    assert code(doe.result(60)) not in ("grain_jump_back", "grain_overload_vet")


def test_back_on_her_amount_it_is_over() -> None:
    assert code(doe_on_barley((40, 100), (58, 500), (60, 100)).result(60)) != "grain_jump_back"


def planned_today(g: int, reason: str = "") -> Log:
    log = one_doe(confirm=0)
    held(log)
    for on in days(8)[:-1]:
        log.fed("p", on, "morning", ("fern", "hay", 1600))
    log.ration("fern", "evening", "barley", (TODAY, g))
    log.events[-1]["data"]["reason"] = reason
    return log


def test_a_jump_planned_for_today_is_held_before_it_is_fed() -> None:
    said = result(planned_today(300))["prompt"]
    assert (said["code"], said["args"]) == ("step_big", {"g": 300, "limit": 100})
    assert (result(planned_today(100))["prompt"] or {}).get("code") != "step_big"


def test_who_gave_a_reason_to_go_on_is_not_asked_again() -> None:
    assert (result(planned_today(300, "had"))["prompt"] or {}).get("code") != "step_big"
