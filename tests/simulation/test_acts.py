"""How a followed act is read and judged, on cases written by hand."""

from __future__ import annotations

from typing import Any

import pytest

from . import acts
from .acts import DOWN, UP, Case, act_breaks, against, lines_of, only_condition, quiet
from .acts_report import brought
from .barn import live_day
from .days import WARM_UP_D, on
from .diet import STAYS, diet
from .keeper import Keeper
from .phone import Phone
from .sample import farm
from .truth.goat import Goat


def case(said: dict[int, str], of: str = "me", way: str = UP, **over: Any) -> Case:
    """Followed for four weeks, a word on each day named and none on the others."""
    made = Case("1|0", "doe", "open", "", of, way, planned=True, shared=False, found="fill", offered=["fill_feeder"])
    made.followed, made.condition = True, 3.0
    made.said = [said.get(day, "") for day in range(29)]
    for name, value in over.items():
        setattr(made, name, value)
    return made


def test_the_first_week_is_its_own_and_from_then_on_no_word_of_that_way_may_stand() -> None:
    assert quiet(case({6: "energy_short"}))
    assert not quiet(case({7: "energy_short"}))
    assert not quiet(case({28: "net_cut_late"}))
    assert quiet(case({20: "energy_short"}), until=14)


def test_another_nutrient_or_the_other_way_is_another_matter() -> None:
    assert quiet(case({20: "calcium_short", 21: "energy_over", 22: "steps_ahead"}))
    assert not quiet(case({20: "energy_over"}, way=DOWN))
    assert not quiet(case({20: "calcium_short"}, of="ca"))


def test_steps_still_to_come_are_waited_for() -> None:
    assert quiet(case({9: "energy_short"}, last_step=10))
    assert not quiet(case({11: "energy_short"}, last_step=10))


def test_a_score_that_was_low_before_is_told_apart() -> None:
    assert only_condition(case({20: "condition_thin"}, condition=2.25))
    assert not only_condition(case({20: "condition_thin"}, condition=3.0))
    assert not only_condition(case({20: "energy_short"}, condition=2.25))


def test_a_feeder_filled_for_one_and_emptied_for_another_is_found() -> None:
    more, less, own = (case({}, shared=True, pen="pen", pen_g=[g, 50]) for g in (400, -300, 0))
    assert against([more, less, own]) == [("1|0", "pen")]
    assert against([more, own]) == []


def test_all_are_judged_by_the_plan_they_were_asked_about(monkeypatch: pytest.MonkeyPatch) -> None:
    keeper, order = Keeper(farm(101, 0)), list[str]()

    def judged(keeper: Keeper, phone: Phone, doe: Goat, *_: object) -> Case:
        order.append("judged")
        return case({}, pen=doe.name, doe=doe.name)

    monkeypatch.setattr(acts, "case_of", judged)
    monkeypatch.setattr(acts, "follow", lambda *_: order.append("followed"))
    monkeypatch.setattr(Phone, "ask", lambda *_: {"offered": [{}]})
    said = {"does": {doe.name: {"prompt": {"code": "energy_short"}} for doe in keeper.farm.does}}
    acts.asked(keeper, Phone(), said, 4)
    does = len(keeper.farm.does)
    assert order == ["judged"] * does + ["followed"] * does


def act(name: str, feed: str, *steps: tuple[int, int], ends: str = "") -> dict[str, Any]:
    line = {"subject": name, "to": "doe", "slot": "morning", "feed": feed, "from_g": 40}
    return {"subject": name, "lines": [{**line, "steps": [[on(day), g] for day, g in steps]}], "ends_on": ends}


def test_an_act_is_followed_as_one_tap_writes_it() -> None:
    made = act("doe", "lot1", (5, 90), (8, 140), ends=on(20))
    assert lines_of(made) == [("doe", "morning", "lot1", [(5, 90), (8, 140)])]


def test_an_act_past_a_limit_is_found_whoever_offered_it() -> None:
    keeper = Keeper(farm(101, 0))
    keeper.replan(-12)
    doe = keeper.farm.does[0]
    grain = keeper.farm.feeds["grain"].id
    assert {one.limit for one in act_breaks(keeper, doe, act(doe.name, grain, (5, 900)), 4)} >= {"grain step"}
    assert act_breaks(keeper, doe, act(doe.name, grain, (5, 0)), 4) == [] or doe.gest(5) >= 100


def test_a_doe_that_is_moved_eats_there_and_no_more_where_she_stood() -> None:
    made = (Keeper(farm(3, number)) for number in range(50))
    keeper = next(each for each in made if any(len(pen.does) > 1 for pen in each.pens.values()))
    live_day(keeper, -WARM_UP_D)
    pen = next(pen for pen in keeper.pens.values() if len(pen.does) > 1)
    name, mate, *_ = pen.does
    day = 1 - WARM_UP_D
    hay = next(feed for subject, _, feed in keeper.plan.steps if subject == pen.id)
    plans = {**keeper.plan.steps, ("new", "morning", hay): [(day, 700)]}
    stays, moves = (diet(keeper, keeper.doe(mate), plans, day, move) for move in (STAYS, (name, "new")))
    assert moves.hay_before_her > stays.hay_before_her
    assert diet(keeper, keeper.doe(name), plans, day, (name, "new")).feeds >= {hay}
    keeper.move(name, "new", day)
    assert (keeper.pen_of[name], keeper.pens["new"].does, name in pen.does) == ("new", [name], False)


def test_what_is_heard_without_the_act_too_was_not_brought_by_it() -> None:
    over = case({}, past=["told grain_share_big", "truly over"], anyway={("doe", "grain_share_big"), ("mate", "x")})
    assert brought(over) == {"truly over"}
    assert brought(case({}, past=["told grain_meal_big"], anyway={("mate", "grain_meal_big")})) == {
        "told grain_meal_big"
    }
