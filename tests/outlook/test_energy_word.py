"""When a short or over line is said, and what is named as bearing it out."""

from __future__ import annotations

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.outlook.rules import RULES
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

FITTED = (
    "milk_slack_pm",
    "short_clear_pm",
    "short_again_pm",
    "feed_fell_pm",
    "ahead_clear_pm",
    "feeder_open_pm",
    "score_closes_d",
    "score_very_fat_x100",
    "over_rich_pm",
    "over_near_pm",
    "over_dried_pm",
    "over_ends_d",
    "late_clear_pm",
    "late_ahead_clear_pm",
    "late_many_clear_pm",
    "cut_eaten_pm",
)

FELL = ((1510, 1227), (1227, 1227), (1510, 1156))


def fed_until(first_g: int, then_g: int, turn: int = 7, feed: str = "hay") -> Log:
    """Fifteen confirmed days: so much until a week ago, so much since."""
    log = one_doe(first_g, confirm=0, feed=feed)
    for on in days(15):
        log.fed("p", on, "morning", ("fern", feed, first_g if on < shift(TODAY, 1 - turn) else then_g))
    return log


def test_what_stands_in_for_a_missing_rule_is_the_rules_own_default() -> None:
    """A book from before the thresholds were rules: she hears the same."""
    log = one_doe(hay_g=1100)
    now = book()
    assert all(now["rules"][name] == RULES[name].default for name in FITTED)
    older = {**now, "rules": {name: value for name, value in now["rules"].items() if name not in FITTED}}
    looks = {"fern": outlook("fern", TODAY, None)}
    assert evaluate(fold(log.events), looks, older, TODAY) == evaluate(fold(log.events), looks, now, TODAY)


def test_far_below_need_the_sums_alone_are_enough() -> None:
    # 700 g: 630 g DM x 8 = 5,040 kJ of 10,000, 529 permille in the middle; the doubt ends well under need
    prompt = result(one_doe(hay_g=700))["prompt"]
    assert (prompt["code"], prompt["args"]["witness"]) == ("energy_short", "sums")


def test_a_little_below_need_is_shown_and_not_said() -> None:
    # 1150 g: 8,280 kJ, 869 permille in the middle, whose doubt reaches past need
    said = result(one_doe(hay_g=1150))
    assert said["lines"]["me"]["st"] == "short"
    assert said["lines"]["me"]["hi"] > 1000
    assert said["prompt"]["code"] == "score_her"


def test_less_feed_than_the_week_before_bears_out_what_the_sums_leave_open() -> None:
    steady, less = result(fed_until(1130, 1130)), result(fed_until(1500, 1130))
    assert steady["lines"]["me"]["hi"] == less["lines"]["me"]["hi"]
    edge = 1000 - RULES["short_clear_pm"].default
    assert edge <= less["lines"]["me"]["hi"] < edge + RULES["short_again_pm"].default
    assert steady["prompt"]["code"] == "score_her"
    assert (less["prompt"]["code"], less["prompt"]["args"]["witness"]) == ("energy_short", "less_feed")


def test_a_week_short_beyond_doubt_is_not_forgotten_the_moment_it_mends_a_little() -> None:
    prompt = result(fed_until(700, 1130))["prompt"]
    assert (prompt["code"], prompt["args"]["witness"]) == ("energy_short", "last_week")
    assert result(fed_until(700, 1300))["prompt"]["code"] != "energy_short"


def test_a_milker_is_called_short_only_well_below_need() -> None:
    branches = {"as_is": branch(milk_g=100)}
    milking = result(one_doe(hay_g=1050), branches)
    assert milking["lines"]["me"]["st"] == "short"
    assert milking["lines"]["me"]["hi"] > 1000 - RULES["milk_slack_pm"].default
    assert (milking["prompt"] or {}).get("code") != "energy_short"
    assert result(one_doe(hay_g=500), branches)["prompt"]["args"]["witness"] == "sums"


def test_once_over_it_stands_until_she_is_back_at_need() -> None:
    # 1227 g: 9,939 kJ, 1043 permille in the middle: level from below, not on the way down
    said = {(first, then): result(fed_until(first, then, feed="alfalfa"))["prompt"] for first, then in FELL}
    assert said[1510, 1227]["code"] == "energy_over"
    assert said[1227, 1227] is None
    assert (said[1510, 1156] or {"code": ""})["code"] != "energy_over"


def test_what_bore_it_out_taken_away_ends_it_at_once() -> None:
    log = one_doe(1510, confirm=0, feed="alfalfa")
    for on in days(15):
        # 1380 g hay: 9,936 kJ, as much as 1227 g alfalfa would give
        log.fed("p", on, "morning", ("fern", "alfalfa", 1510) if on < shift(TODAY, -6) else ("fern", "hay", 1380))
    # what is left to say is that the plan still holds it
    assert result(log)["prompt"]["code"] == "energy_heading_over"


def test_soon_after_dry_off_over_begins_later_and_ten_days_before_late_it_is_past() -> None:
    # 1316 g: 10,660 kJ, 1118 permille in the middle: over from 1080, dry after milk from 1120
    log = one_doe(1316, feed="alfalfa")
    assert result(log, {"as_is": branch(phase=2)})["prompt"]["code"] == "energy_over"
    assert result(log, {"as_is": branch(phase=5)})["prompt"] is None
    assert result(log, {"as_is": branch(phase=2, gest=89)})["prompt"]["code"] == "energy_over"
    assert result(log, {"as_is": branch(phase=2, gest=90)})["prompt"] is None


def test_a_late_doe_below_her_floor_by_a_hair_is_not_called_short_on_one_low_score() -> None:
    # floor 9,000: 1,240 g gives 8,928 kJ, eight thousandths under; 1,150 g gives 8,280, a tenth under
    for hay_g, code in ((1240, None), (1150, "energy_short")):
        log = one_doe(hay_g=hay_g)
        log.score("fern", shift(TODAY, -3), 225)
        prompt = result(log, late())["prompt"] or {"code": None}
        assert (prompt["code"] == "energy_short") == (code == "energy_short")
