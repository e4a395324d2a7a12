"""Balance and late rules on flat outlooks: every expected figure is worked by hand in the comment beside it."""

from __future__ import annotations

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, held, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, outlook


def test_energy_over_seven_days_is_supply_over_need() -> None:
    # 1600 g x 0.9 = 1440 g DM x 8 kJ = 11,520 kJ; need 10,000: 1152 permille, seven days.
    line = result(one_doe())["lines"]["me"]
    assert (line["pm"], line["got"], line["need"], line["days"]) == (1152, 7 * 11520, 70000, 7)


def test_over_needs_more_than_sums_and_speaks_through_one_middling_score() -> None:
    # 1600 g hay and 1422 g alfalfa are both 1152 x 1.095 = 1261 permille in the middle of the band, above 1080
    plain, legume = one_doe(), one_doe(1422, feed="alfalfa")
    assert (result(plain)["prompt"], result(plain)["lines"]["me"]["st"]) == (None, "level")
    assert result(legume)["prompt"]["code"] == "energy_over"
    legume.score("fern", shift(TODAY, -5), 300)
    assert result(legume)["prompt"]["args"]["witness"] == "rich"


def test_a_doe_who_held_through_her_scores_is_level_on_what_she_holds() -> None:
    log = one_doe(1363, feed="alfalfa")
    held(log)
    assert (result(log)["prompt"], result(log)["lines"]["me"]["st"]) == (None, "level")


def test_a_doe_at_the_foot_of_her_band_is_over_later() -> None:
    log = one_doe(1363, feed="alfalfa")
    log.score("fern", shift(TODAY, -5), 275)
    # 1104 x 1.095 = 1208 is under 1250
    assert result(log)["prompt"] is None


def test_plain_hay_is_over_where_her_condition_bears_it_out() -> None:
    for scores, witness in ((((30, 300), (5, 350)), "rising"), (((5, 375),), "fat")):
        log = one_doe()
        for back, x100 in scores:
            log.score("fern", shift(TODAY, -back), x100)
        assert result(log)["prompt"]["args"]["witness"] == witness


def test_legume_no_more_than_her_plan_gives_is_nothing_she_could_do_without() -> None:
    # 1600 g a day, of which a fifth, and two fifths, are alfalfa: the rule plan of the branch has a fifth
    for share, code in ((320, None), (640, "energy_over")):
        log = one_doe(1600 - share)
        log.ration("fern", "evening", "alfalfa", ("2026-09-01", share))
        for on in days(8):
            log.fed("p", on, "evening", ("fern", "alfalfa", share))
        assert (result(log)["prompt"] or {"code": None})["code"] == code


def test_fewer_than_five_confirmed_days_is_not_enough() -> None:
    said = result(one_doe(confirm=4))
    assert said["lines"]["me"]["st"] == "unknown"
    assert said["prompt"]["code"] == "record_next"
    assert said["prompt"]["args"]["days"] == 4


def test_unconfirmed_meals_are_neither_eaten_nor_refused() -> None:
    log = one_doe(confirm=6)
    line = result(log)["lines"]["me"]
    assert (line["days"], line["pm"]) == (6, 1152)


def test_what_she_left_is_not_counted() -> None:
    log = one_doe()
    log.intake("fern", TODAY, "morning", "left_some", 50)
    # six full days and one half: 6.5 x 11,520 = 74,880 of 70,000
    assert result(log)["lines"]["me"]["pm"] == 1069


def test_a_feeding_fed_twice_counts_small_for_need_and_large_for_limits() -> None:
    log = one_doe()
    log.fed("p", TODAY, "morning", ("fern", "hay", 800), ("fern", "barley", 400))
    said = result(log)
    # today: 800 g hay + 400 g barley = 720 + 356 = 1076 g DM, less than 1440: 720 x 8 + 356 x 12 = 10,032
    assert said["lines"]["me"]["got"] == 6 * 11520 + 10032
    log = one_doe()
    log.fed("p", TODAY, "morning", ("fern", "hay", 1800), ("fern", "barley", 400))
    # the larger set carries 400 g barley to a doe who had none, though it does not count toward need
    said = result(log)["prompt"]
    assert (said["code"], said["args"]["g"]) == ("grain_jump_back", 400)


def test_added_feed_counts_on_top() -> None:
    log = one_doe()
    log.fed("p", TODAY, "morning", ("fern", "barley", 100), adds=True)
    assert result(log)["lines"]["me"]["got"] == 7 * 11520 + 89 * 12


def test_shared_hay_is_divided_by_remaining_appetite_after_waste() -> None:
    log = Log()
    for doe in ("fern", "moss"):
        log.record("doe", doe, name=doe)
    log.pen("p", "fern", "moss")
    log.fed("p", TODAY, "morning", ("moss", "barley", 1000), ("", "hay", 2000))
    looks = {
        doe: outlook(doe, TODAY, basis=dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), ""))
        for doe in ("fern", "moss")
    }
    said = evaluate(fold(log.events), looks, book(confirmed_days=2), TODAY)["does"]
    # hay: 2000 x 0.9 x 0.85 = 1530 g; room 1500 and 1500 - 890 = 610; shares 1530 x 1500 / 2110 = 1087.68 and 442.32
    assert said["fern"]["lines"]["me"]["got"] == 1088 * 8
    assert said["moss"]["lines"]["me"]["got"] == 890 * 12 + 442 * 8


def test_late_short_at_an_open_feeder_asks_for_a_score_and_a_fresh_good_score_closes_it() -> None:
    log = one_doe(hay_g=1200)  # 1080 g x 8 = 8,640 kJ, under the floor of 9,000, and all she would eat
    full = late(appetite_g=1080)
    assert result(log, full)["prompt"]["code"] == "score_her"
    log.score("fern", shift(TODAY, -2), 300)
    held = result(log, full)
    assert held["prompt"] is None
    # (13,000 - 8,640) kJ a day / 28 MJ per kg = 155 g a day
    assert held["lines"]["me"]["loss_g_d"] == 155


def test_late_below_floor_and_below_appetite_is_short_without_another_witness() -> None:
    log = one_doe(hay_g=1200)  # 1080 g of the 1500 she would eat
    said = result(log, late())["prompt"]
    assert (said["code"], said["args"]["witness"]) == ("energy_short", "feeder")
    log.intake("p", TODAY, "morning", "left_some", 10)
    assert result(log, late())["prompt"]["code"] == "score_her"


def test_a_late_score_that_holds_answers_the_feeder_for_a_week_and_never_with_three_kids() -> None:
    for back, who, code in ((2, 200, None), (8, 200, "energy_short"), (2, 300, "energy_short")):
        log = one_doe(hay_g=1200)
        log.score("fern", shift(TODAY, -back), 300)
        said = result(log, late(), who={"litter_x100": who, "size": "standard"})["prompt"]
        assert (said or {"code": None})["code"] == code


def test_late_short_with_a_witness_speaks() -> None:
    log = one_doe(hay_g=1200)
    log.score("fern", shift(TODAY, -2), 250)
    said = result(log, late())["prompt"]
    assert (said["code"], said["args"]["witness"]) == ("energy_short", "condition")


def test_above_the_floor_late_is_level_though_demand_is_not_met() -> None:
    assert result(one_doe(hay_g=1300), late())["lines"]["me"]["st"] == "level"  # 9,360 of a floor of 9,000


def test_over_is_never_said_late() -> None:
    said = result(one_doe(), late(me_kj=8000, floor_me_kj=7000))
    assert said["prompt"] is None
