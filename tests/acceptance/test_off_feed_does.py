"""Does and a buck whose life hangs on the word, on the real compiler: who must hear it and who must not.

What each should be told is common practice or judgement, as herd/outlook/tables/off_feed.toml says of each rule.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.acceptance.test_named_does import BRED_ON, MINIATURE, STANDARD
from tests.support.one_doe import OneDoe, code


def doe_with_twins(**fields: Any) -> OneDoe:
    return OneDoe(BRED_ON, 60_000, 5, 2, mature_kg=60, **{**STANDARD, **fields})


def urgency(doe: OneDoe, day: int) -> str:
    found = doe.result(day)["off_feed"]
    return str(found["args"]["urgency"]) if found else ""


def left(doe: OneDoe, day: int, slot: str, how: str = "left_some", left_pct: int = 30) -> str:
    return doe.log.intake("doe", doe.on(day), slot, how, left_pct)


@pytest.mark.parametrize(("day", "said"), [(60, "now"), (130, "vet_now")])
def test_juno_who_leaves_a_second_meal(day: int, said: str) -> None:
    """Late she hears the vet this hour; the same doe at day 60 is looked at."""
    juno = doe_with_twins()
    left(juno, day, "morning")
    left(juno, day, "evening")
    assert urgency(juno, day) == said


@pytest.mark.parametrize(("what", "said"), [("grain", "vet_today"), ("both", "vet_now")])
def test_hazel_who_refuses_grain_and_eats_hay(what: str, said: str) -> None:
    hazel = doe_with_twins()
    mark = left(hazel, 132, "morning", "refused")
    blank = dict.fromkeys(("new_feed", "water_bad", "bullied", "suspect", "result"), "")
    told = {**blank, "of": mark, "left": what, "passes": "", "strains": ""}
    hazel.log.add("triage", "doe", told, hazel.on(132), "midday", v=2)
    assert urgency(hazel, 132) == said


def test_clover_who_is_down_with_ketones_hears_one_thing() -> None:
    clover = doe_with_twins()
    clover.log.add("checkup", "doe", {"temp_c_x10": 0, "bhb_x10": 12, "urine": ""}, clover.on(138), "morning")
    assert code(clover.result(138)) == "ketones_act"
    left(clover, 138, "evening", "not_up", 0)
    said = clover.result(138)
    assert (code(said), said["prompt"]["args"]["urgency"]) == ("off_feed_vet", "vet_now")


@pytest.mark.parametrize(("day", "said"), [(149, "labour_now"), (128, "labour_vet")])
def test_bracken_who_pushes_at_term_or_three_weeks_early(day: int, said: str) -> None:
    bracken = doe_with_twins()
    left(bracken, day, "morning", "refused")
    bracken.log.add("signs", "doe", {"seen": ["straining"], "absent": []}, bracken.on(day), "evening")
    assert code(bracken.result(day)) == said


def test_sorrel_whose_water_bag_is_put_down_while_nobody_bred_her() -> None:
    sorrel = OneDoe(BRED_ON, 30_000, 5, 2, mature_kg=30, **MINIATURE)
    sorrel.log.add("preg_check", "doe", {"result": "open", "kids": 0, "how": "scan"}, sorrel.on(50))
    sorrel.log.add("signs", "doe", {"seen": ["water_bag"], "absent": []}, sorrel.on(100), "evening")
    said = sorrel.result(100)
    assert (code(said), said["prompt"]["args"]["why"]) == ("labour_vet", "not_bred")


def fresh(day: int) -> OneDoe:
    """Kidded on day 150, looked at so many days after."""
    doe = doe_with_twins()
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(150), "morning")
    doe.log.add("checkup", "doe", {"temp_c_x10": 401, "bhb_x10": 0, "urine": ""}, doe.on(150 + day), "morning")
    return doe


@pytest.mark.parametrize(("day", "said"), [(12, "temperature_vet"), (40, "temperature_watch")])
def test_willow_with_a_fever_fresh_or_well_into_her_milk(day: int, said: str) -> None:
    assert fresh(day).result(150 + day)["checkup"]["code"] == said


@pytest.mark.parametrize(("day", "daily"), [(0, True), (21, True), (22, False)])
def test_willow_is_looked_at_daily_to_day_21(day: int, daily: bool) -> None:
    assert fresh(day).result(150 + day)["daily"] is daily
