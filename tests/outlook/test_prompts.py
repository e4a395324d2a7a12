"""Prompts, branches and the pen on flat outlooks: every expected figure is worked by hand beside it."""

from __future__ import annotations

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay, evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, held, late, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook


def test_the_plan_ahead_names_the_date_a_band_is_left() -> None:
    log = one_doe(hay_g=1400)  # 10,080: level
    log.ration("fern", "morning", "hay", (shift(TODAY, 5), 800), base=log.events[4]["hlc"])
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
    assert (said["code"], said["args"]["g"], said["args"]["limit"]) == ("grain_jump_back", 165, 84)


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
    log = one_doe(1534)
    held(log)
    for on in days(8):
        log.fed("p", on, "evening", ("fern", "mystery", 5))
    # 4 g DM x 14 kJ = 56 kJ more at the most: still within what three scores that held allow
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
    assert (said["code"], said["args"]["stage"], said["rank"]) == ("off_feed_vet", "last_weeks", 1)
    assert said["args"]["urgency"] == "vet_today"
    log.intake("fern", TODAY, "evening", "refused")
    assert result(log, late(), due=due)["prompt"]["args"]["urgency"] == "vet_now"
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
    farm = FarmDay(fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)
    line = farm.ask("manger_line", "fern", 60, 14)
    assert len(line) == 75
    assert line[0][:4] == [shift(TODAY, -60), -1, 9500, 0]
    assert line[30][:4] == [shift(TODAY, -30), 1260 * 8, 9500, 0]
    assert line[60][:4] == [TODAY, 1260 * 8, 10000, 0]
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


def test_an_amount_under_question_leaves_the_days_behind_alone() -> None:
    log = one_doe(hay_g=1400)
    log.ration("fern", "evening", "hay", (TODAY, 300), base="")
    log.ration("fern", "evening", "hay", (TODAY, 500), base="")
    farm = FarmDay(fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)
    assert farm.ask("subject_lines", "fern", shift(TODAY, -1), "evening") == []
    assert farm.ask("subject_lines", "fern", TODAY, "evening") == [["hay", 300]]
