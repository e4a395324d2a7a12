"""Named does at the grain bin and at Save: who must hear of it, and who must not. Amounts beyond 15 g a kilogram of her
are for the vet by our judgement; the steps are common practice.
"""

from __future__ import annotations

from typing import Any

from tests.acceptance.test_named_does import ALFALFA, BARLEY, BRED_ON, MEALS, PLAIN_GRASS, STANDARD, in_two_meals
from tests.support.one_doe import OneDoe, code


def hazel(grain_g: int) -> OneDoe:
    """60 kg, dry, day 60, plain grass hay and so much barley a day."""
    doe = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(doe, "pen", 40, orchardgrass_hay=1900)
    if grain_g:
        in_two_meals(doe, "doe", 40, barley_grain=grain_g)
    doe.fed_as_planned(40, 60)
    doe.scored(300, 50)
    return doe


def bin_left_open(doe: OneDoe, g: int | None) -> OneDoe:
    doe.log.add("got_into", "doe", {"feed": BARLEY, "g": g}, doe.on(60), "evening")
    return doe


def test_hazel_found_with_her_head_in_the_bin_is_for_the_vet_and_a_mouthful_is_not() -> None:
    assert code(bin_left_open(hazel(200), None).result(60)) == "grain_overload_vet"
    assert code(bin_left_open(hazel(200), 1500).result(60)) == "grain_overload_vet"
    assert code(bin_left_open(hazel(200), 300).result(60)) == "grain_jump_back"
    assert code(hazel(200).result(60)) not in ("grain_overload_vet", "grain_jump_back")


def saved(doe: OneDoe, day: int, subject: str, feed: str, *steps: tuple[int, int]) -> Any:
    dated = [[doe.on(on), g] for on, g in steps]
    change = {"subject": subject, "feed": feed, "slots": list(MEALS), "steps": dated}
    return doe.farm(day).ask("gate", change)


def codes(found: Any) -> set[str]:
    return {one["code"] for one in found["findings"]}


def test_hazel_from_nothing_to_six_hundred_grams_a_day_is_asked_about_and_her_first_step_is_not() -> None:
    found = saved(hazel(0), 60, "doe", BARLEY, (60, 300))
    assert "grain_jump" in codes(found)
    assert found["safe"]
    assert codes(saved(hazel(0), 60, "doe", BARLEY, (61, 50))) == set()


def test_juno_fifteen_days_from_kidding_is_not_turned_from_grass_to_alfalfa_overnight() -> None:
    juno = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(juno, "pen", 100, orchardgrass_hay=1900)
    juno.fed_as_planned(100, 134)
    for slot in MEALS:
        juno.plan("pen", slot, ALFALFA, (135, 950))
    assert {"hay_switch", "calcium_rise"} <= codes(saved(juno, 135, "pen", PLAIN_GRASS, (136, 0)))
    assert codes(saved(juno, 135, "pen", PLAIN_GRASS, (136, 950))) == set()


def test_juno_is_not_cut_late_without_a_word_and_hazel_may_be_cut_early() -> None:
    juno = OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **STANDARD)
    in_two_meals(juno, "pen", 100, orchardgrass_hay=1900)
    juno.fed_as_planned(100, 119)
    assert codes(saved(juno, 120, "pen", PLAIN_GRASS, (121, 600))) == {"late_cut"}
    assert codes(saved(hazel(0), 60, "pen", PLAIN_GRASS, (61, 600))) == set()
