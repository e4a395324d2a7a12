"""Another pen for one doe: where to, what she gets there, what those are left whom she leaves, and who is not moved."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.act_farm import BARLEY, GRASS, MIXED, POOR, barn
from tests.support.some_does import STANDARD, TODAY, SomeDoes, days_from_today, word

OLIVE = {"name": "olive", "gest": 40, "kids": 1, "score": 400}
POPPY = {"name": "poppy", "gest": 118, "kids": 2, "score": 300}
OFF = ("energy", "condition", "calcium", "protein", "forage")


def at_one_feeder(*does_of: dict[str, Any], hay: str = MIXED, g: int = 4600) -> SomeDoes:
    does = barn()
    stand(does, "pen", *does_of, hay=hay, g=g)
    return does


def stand(does: SomeDoes, pen: str, *does_of: dict[str, Any], hay: str = MIXED, g: int) -> None:
    for doe in does_of:
        does.doe(doe["name"], doe.get("kg", 60), doe["gest"], doe["kids"], pen, **STANDARD)
        does.scored(doe["name"], doe["score"], -40, -5)
    does.given(pen, **{hay: g})


def fed(does: SomeDoes) -> SomeDoes:
    does.fed_as_planned(-28, 0)
    return does


def offered(does: SomeDoes, name: str) -> list[dict[str, Any]]:
    return [act for act in does.acts(name)["offered"] if act["code"] == "move"]


def grams(act: dict[str, Any], subject: str) -> int:
    """A day, more than before, in the end."""
    return sum(line["steps"][-1][1] - line["from_g"] for line in act["lines"] if line["subject"] == subject)


def test_fat_and_early_where_the_feeder_is_right_for_a_late_doe_she_is_offered_a_pen_of_her_own() -> None:
    does = fed(at_one_feeder(OLIVE, POPPY))
    (act,) = offered(does, "olive")
    assert does.acts("olive")["for"] == "energy_over"
    assert act["moves"]["made"]
    pen = act["moves"]["pen"]
    # all of it from tomorrow: today's meals are those of the pen she stands in today
    assert {line["steps"][0][0] for line in act["lines"]} == {does.on(1)}
    assert {line["feed"] for line in act["lines"]} == {MIXED}
    assert grams(act, pen) > 0 > grams(act, "pen")
    assert act["brings"]["from_pm"] > 1080 > act["brings"]["to_pm"] > 900


def test_moved_and_fed_so_she_is_over_no_more_nor_short_and_the_other_finds_what_she_found() -> None:
    does = fed(at_one_feeder(OLIVE, POPPY))
    (act,) = offered(does, "olive")
    does.adopt(act)
    does.fed_as_planned(1, 28)
    for day in (7, 10, 14, 21, 28):
        farm = does.farm(day)
        said = word(farm, "olive")
        assert not said.startswith("energy"), (day, said)
        assert not word(farm, "poppy").startswith(OFF), (day, word(farm, "poppy"))


def test_today_she_still_eats_where_she_stands_and_tomorrow_only_there() -> None:
    does = fed(at_one_feeder(OLIVE, POPPY))
    (act,) = offered(does, "olive")
    pen = act["moves"]["pen"]
    before = does.farm().ask("share_day", "pen", TODAY, True)
    does.adopt(act)
    farm = does.farm()
    assert farm.ask("share_day", "pen", TODAY, True) == before
    assert farm.ask("share_day", pen, TODAY, True) == {}
    assert set(farm.ask("share_day", "pen", does.on(1), True)) == {"poppy"}
    assert set(farm.ask("share_day", pen, does.on(1), True)) == {"olive"}
    assert farm.ask("results")["does"]["olive"]["pen"] == "pen"


def test_a_pen_that_stands_empty_comes_before_one_that_has_to_be_made() -> None:
    does = at_one_feeder(OLIVE, POPPY)
    does.log.add("pen", "stall", {"f": {"name": "Stall"}, "base": {"name": ""}}, does.on(-90))
    # what somebody was fed there in spring is not hers
    does.plan("stall", "evening", POOR, (-90, 900))
    (act,) = offered(fed(does), "olive")
    assert act["moves"] == {"doe": "olive", "pen": "stall", "made": False}
    (left,) = [line for line in act["lines"] if line["feed"] == POOR]
    assert (left["subject"], left["slot"], left["steps"][-1][1]) == ("stall", "evening", 0)


def with_company(g: int, hay: str = GRASS) -> SomeDoes:
    does = at_one_feeder(OLIVE, POPPY, hay=GRASS)
    others = ({"name": name, "gest": 0, "kids": 0, "score": 300} for name in ("ada", "bea"))
    stand(does, "west", *others, hay=hay, g=g)
    return fed(does)


def test_where_others_keep_well_on_what_she_needs_she_joins_them_and_they_find_what_they_found() -> None:
    does = with_company(2700)
    (act,) = offered(does, "olive")
    assert (act["moves"]["pen"], act["moves"]["made"]) == ("west", False)
    assert grams(act, "west") > 0
    does.adopt(act)
    does.fed_as_planned(1, 21)
    for day in (7, 14, 21):
        farm = does.farm(day)
        said = {name: word(farm, name) for name in ("ada", "bea") if word(farm, name).startswith(OFF)}
        assert said == {}, day
        # plain grass is short of calcium for a late doe, moved or not
        assert not any(word(farm, name).startswith("energy") for name in ("olive", "poppy"))


@pytest.mark.parametrize(("hay", "g"), [(GRASS, 6000), (POOR, 3600)])
def test_not_where_they_eat_more_than_is_right_for_her_nor_where_her_hay_would_be_another(hay: str, g: int) -> None:
    (act,) = offered(with_company(g, hay), "olive")
    assert act["moves"]["pen"] not in ("pen", "west")


def test_a_late_doe_is_not_moved_to_be_slimmed() -> None:
    does = fed(at_one_feeder({**OLIVE, "gest": 120}, POPPY))
    assert offered(does, "olive") == []


def test_alone_already_she_is_not_moved() -> None:
    assert offered(fed(at_one_feeder(OLIVE, g=2600)), "olive") == []


def test_where_all_are_over_it_is_the_feeder_that_is_looked_at() -> None:
    does = fed(at_one_feeder(OLIVE, {**OLIVE, "name": "poppy"}))
    assert offered(does, "olive") == offered(does, "poppy") == []


def test_where_less_of_her_grain_does_it_she_stays() -> None:
    does = at_one_feeder({**OLIVE, "score": 325}, {**POPPY, "gest": 40}, hay=GRASS, g=3400)
    does.given("olive", **{BARLEY: 400})
    assert [act["code"] for act in fed(does).acts("olive")["offered"]][:1] == ["grain_down"]


def test_her_pen_is_hers_whoever_makes_it_and_no_other_does() -> None:
    pens = {offered(fed(at_one_feeder({**OLIVE, "name": name}, POPPY)), name)[0]["moves"]["pen"] for name in ("a", "b")}
    assert len(pens) == 2
    assert not pens & {"a", "b", "poppy"}


def test_steps_are_whole_days_from_tomorrow() -> None:
    (act,) = offered(fed(at_one_feeder(OLIVE, POPPY)), "olive")
    assert all(days_from_today(on) >= 1 for line in act["lines"] for on, _ in line["steps"])
