"""Evaluation on flat outlooks with round numbers: every expected figure is worked by hand in the comment beside it."""

from __future__ import annotations

from typing import Any

from herd.outlook.context import Context, shift
from herd.outlook.evaluate import evaluate
from herd.outlook.season import manger_line
from herd.outlook.sharing import largest_remainder
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

TODAY = "2026-11-20"


def days(n: int, last: str = TODAY) -> list[str]:
    return [shift(last, -k) for k in range(n - 1, -1, -1)]


def one_doe(hay_g: int = 1600, own: bool = True, confirm: int = 8) -> Log:
    """Fern alone in a pen with hay on her own stand line, confirmed for the last days."""
    log = Log()
    log.record("doe", "fern", name="Fern", size="standard")
    log.pen("p", "fern")
    log.add("bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    log.ration("fern" if own else "p", "morning", "hay", ("2026-09-01", hay_g))
    for on in days(confirm):
        log.fed("p", on, "morning", ("fern" if own else "", "hay", hay_g))
    return log


def result(log: Log, branches: dict[str, Any] | None = None, day: str = TODAY, **over: Any) -> dict[str, Any]:
    looks = {"fern": outlook("fern", day, branches, **over)}
    return evaluate(fold(log.events), looks, book(), day)["does"]["fern"]


def late(**over: Any) -> dict[str, Any]:
    """A branch at day 130 with a floor of 9,000 kJ and a full demand of 13,000."""
    return {"as_is": branch(**{"gest": 130, "me_kj": 13000, "floor_me_kj": 9000, **over})}


def test_energy_over_seven_days_is_supply_over_need() -> None:
    # 1600 g x 0.9 = 1440 g DM x 8 kJ = 11,520 kJ; need 10,000: 1152 permille, seven days.
    line = result(one_doe())["lines"]["me"]
    assert (line["pm"], line["got"], line["need"], line["days"]) == (1152, 7 * 11520, 70000, 7)


def test_over_without_a_score_speaks_and_with_a_fresh_score_that_holds_is_level() -> None:
    log = one_doe()
    assert result(log)["prompt"]["code"] == "energy_over"
    log.score("fern", shift(TODAY, -5), 300)
    held = result(log)
    assert held["prompt"] is None
    assert held["lines"]["me"]["st"] == "level"


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
    # the larger set carries 400 g barley against the 300 g meal limit, though it does not count toward need
    assert result(log)["prompt"]["code"] == "grain_meal_big"


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


def test_shares_add_up_and_ties_go_by_id() -> None:
    assert largest_remainder(10, {"b": 1, "a": 1, "c": 1}) == {"b": 3, "a": 4, "c": 3}
    assert largest_remainder(5, {"a": 0, "b": 0}) == {"a": 0, "b": 0}


def test_late_short_without_a_witness_asks_for_a_score_and_a_fresh_good_score_closes_it() -> None:
    log = one_doe(hay_g=1200)  # 1080 g x 8 = 8,640 kJ, under the floor of 9,000
    assert result(log, late())["prompt"]["code"] == "score_her"
    log.score("fern", shift(TODAY, -2), 300)
    held = result(log, late())
    assert held["prompt"] is None
    # (13,000 - 8,640) kJ a day / 28 MJ per kg = 155 g a day
    assert held["lines"]["me"]["loss_g_d"] == 155


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


def test_the_plan_ahead_names_the_date_a_band_is_left() -> None:
    log = one_doe(hay_g=1400)  # 10,080: level
    log.ration("fern", "morning", "hay", (shift(TODAY, 5), 900), base=log.events[4]["hlc"])
    said = result(log)
    assert said["lines"]["me"]["ahead"] == {"st": "short", "on": shift(TODAY, 5)}
    assert said["prompt"]["code"] == "energy_heading_short"


def test_a_true_cut_late_is_stopped_and_a_steady_plan_passes() -> None:
    log = one_doe(hay_g=1400)
    log.ration("fern", "morning", "hay", (shift(TODAY, 3), 1200), base=log.events[4]["hlc"])
    assert result(log, late())["prompt"]["code"] == "net_cut_late"
    assert result(one_doe(hay_g=1400), late())["prompt"] is None


def test_sprouts_count_by_their_dry_matter_and_a_swap_to_barley_is_a_jump() -> None:
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    for on in days(8)[:-1]:
        log.fed("p", on, "evening", ("fern", "sprouts", 500))
    log.fed("p", TODAY, "evening", ("fern", "barley", 250))
    # 500 g sprouts = 75 g DM = 84 g as dry grain; 250 g barley = 222 g DM = 249: a rise of 165 over a step of 100
    said = result(log)["prompt"]
    assert (said["code"], said["args"]["g"]) == ("step_big", 165)


def test_planned_steps_too_big_or_too_fast_are_named_with_their_date() -> None:
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    log.ration("fern", "evening", "barley", (shift(TODAY, 4), 250))
    said = result(log)["prompt"]
    assert (said["code"], said["args"]["on"]) == ("step_planned_big", shift(TODAY, 4))
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    log.ration("fern", "evening", "barley", (shift(TODAY, 2), 50), (shift(TODAY, 3), 100))
    assert result(log)["prompt"]["code"] == "steps_too_fast"


def test_unknown_composition_withholds_only_where_it_could_change_the_verdict() -> None:
    log = one_doe()
    log.score("fern", shift(TODAY, -2), 300)
    for on in days(8):
        log.fed("p", on, "evening", ("fern", "mystery", 5))
    # 4 g DM x 14 kJ = 56 kJ more at the most: still within what a holding score allows
    line = result(log)["lines"]["me"]
    assert (line["st"], line["at_least"]) == ("level", True)
    for on in days(8):
        log.fed("p", on, "midday", ("fern", "mystery", 400))
    assert result(log)["lines"]["me"]["st"] == "unknown"


def test_a_refused_meal_outranks_everything_and_asks_more_the_nearer_she_is() -> None:
    log = one_doe()
    log.intake("fern", TODAY, "morning", "refused")
    assert result(log)["prompt"]["code"] == "off_feed_watch"
    due = {"early": shift(TODAY, 10), "mid": shift(TODAY, 14), "late": shift(TODAY, 18), "printed": shift(TODAY, 14)}
    said = result(log, late(), due=due)["prompt"]
    assert (said["code"], said["args"]["stage"], said["rank"]) == ("off_feed_now", "last_weeks", 1)
    log.intake("fern", TODAY, "evening", "refused")
    assert result(log, late(), due=due)["prompt"]["code"] == "off_feed_vet"
    log.intake("fern", TODAY, "late", "ate_all")
    assert result(log, late(), due=due)["off_feed"] is None


def test_not_up_calls_the_vet_without_any_outlook() -> None:
    log = one_doe()
    log.intake("fern", TODAY, "morning", "not_up")
    said = evaluate(fold(log.events), {}, book(), TODAY)["does"]["fern"]
    assert said["standing"] == "no_outlook"
    assert said["prompt"]["code"] == "off_feed_vet"


def test_dried_off_then_kidded_offline_changes_branch_twice() -> None:
    branches = {
        "as_is": branch(phase=3, lane=0, milk_g=1000),
        "dry": branch(phase=5),
        "kidded2": branch(phase=8, lane=0, gest=-1, me_kj=9000, milk_g=2000),
    }
    log = one_doe()
    log.add("dried_off", "fern", {}, shift(TODAY, -9))
    assert result(log, branches)["phase"] == 5
    log.add("kidded", "fern", {"born": 2, "alive": 2}, shift(TODAY, -1))
    said = result(log, branches)
    assert (said["phase"], said["standing"], said["due"]) == (8, "ok", None)


def test_a_new_breeding_waits_for_the_server_and_an_old_outlook_gives_no_amounts() -> None:
    log = one_doe()
    log.add("bred", "fern", {"from_on": "2026-11-01", "to_on": "2026-11-01", "how": "hand", "buck": ""}, "2026-11-01")
    assert result(log)["prompt"]["code"] == "waiting"
    looks = {"fern": outlook("fern", "2026-09-01")}
    said = evaluate(fold(one_doe().events), looks, book(), TODAY)["does"]["fern"]
    assert (said["standing"], said["lines"]) == ("stale", {})
    looks = {"fern": outlook("fern", TODAY, schema=2)}
    assert evaluate(fold(one_doe().events), looks, book(), TODAY)["does"]["fern"]["prompt"]["code"] == "update_needed"


def test_calcium_of_shared_hay_is_a_verdict_on_the_pen_said_once() -> None:
    log = Log()
    for doe in ("fern", "moss"):
        log.record("doe", doe, name=doe)
        log.score(doe, shift(TODAY, -3), 300)
    log.pen("p", "fern", "moss")
    log.ration("p", "morning", "hay", ("2026-09-01", 3200))
    for on in days(8):
        log.fed("p", on, "morning", ("", "hay", 3200))
    basis = dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), "")
    # each eats about 1224 g: 9.8 MJ; calcium 4.9 g against a need of 9 g
    looks = {doe: outlook(doe, TODAY, {"as_is": branch(ca_mg=9000)}, basis=basis) for doe in ("fern", "moss")}
    said = evaluate(fold(log.events), looks, book(), TODAY)
    assert said["pens"]["p"]["prompt"]["code"] == "calcium_short"
    assert said["does"]["fern"]["prompt"]["in_pen"] is True


def test_moving_one_doe_changes_her_penmates_share() -> None:
    log = Log()
    for doe in ("fern", "moss"):
        log.record("doe", doe, name=doe)
    log.pen("p", "fern", "moss")
    log.record("pen", "q", name="q")
    log.ration("p", "morning", "hay", ("2026-09-01", 3200))
    basis = dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), "")
    looks = {doe: outlook(doe, TODAY, basis=basis) for doe in ("fern", "moss")}
    for on in days(8):
        log.fed("p", on, "morning", ("", "hay", 3200))
    before = evaluate(fold(log.events), looks, book(), TODAY)["does"]["fern"]["lines"]["me"]["got"]
    log.add("moved", "moss", {"pen": "q"}, shift(TODAY, -2))
    after = evaluate(fold(log.events), looks, book(), TODAY)["does"]["fern"]["lines"]["me"]["got"]
    # three of seven days alone: 1500 g (appetite) instead of 1224 g
    assert after - before == 3 * (1500 - 1224) * 8


def test_an_amount_under_question_stays_at_what_was_last_fed() -> None:
    log = one_doe(hay_g=1400)
    log.ration("fern", "morning", "hay", (shift(TODAY, 5), 900), base="")
    view = fold(log.events)
    assert [q["kind"] for q in view["questions"]] == ["ration"]
    assert result(log)["lines"]["me"]["ahead"] is None


def test_the_manger_line_shows_what_was_confirmed_and_follows_the_plan_ahead() -> None:
    log = one_doe(hay_g=1400, confirm=40)
    ctx = Context(fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)
    line = manger_line(ctx, "fern", 60, 14)
    assert len(line) == 75
    assert line[0] == [shift(TODAY, -60), -1, 9500, 0]
    assert line[30] == [shift(TODAY, -30), 1260 * 8, 9500, 0]
    assert line[60] == [TODAY, 1260 * 8, 10000, 0]
    assert line[74][1] == 1260 * 8


def test_an_outlook_that_was_withheld_says_so_and_gives_no_amounts() -> None:
    why = [
        {
            "line": "amounts",
            "why": "out_of_range",
            "name": "body_weight_kg",
            "value": 300000,
            "low": 10000,
            "high": 140000,
        }
    ]
    looks = {"fern": {**outlook("fern", TODAY), "branches": {}, "withheld": why}}
    said = evaluate(fold(one_doe().events), looks, book(), TODAY)["does"]["fern"]
    assert (said["standing"], said["lines"], said["prompt"]["code"]) == ("withheld", {}, "withheld")
