"""Acts for a doe who is short where little is left to do: late, her meals full, for a fortnight, beside a fat mate."""

from __future__ import annotations

from typing import Any

import pytest

from tests.support.act_farm import BARLEY, GRASS, LEGUME, MIXED, POOR, barn
from tests.support.some_does import STANDARD, SomeDoes, word
from tests.support.told_does import dry, held, milker


def fed(does: SomeDoes) -> SomeDoes:
    does.fed_as_planned(-60, 0)
    return does


def least_forage_g(does: SomeDoes) -> int:
    return int(does.outlooks(0)["ada"]["limits"]["forage_floor_g"])


def last_g(act: dict[str, Any], feed: str) -> int:
    return sum(line["steps"][-1][1] for line in act["lines"] if line["feed"] == feed)


def with_first_act(does: SomeDoes, day: int) -> dict[str, Any]:
    does.adopt(does.acts("ada")["offered"][0])
    return dict(does.farm().ask("day_sums", "ada", does.on(day), True))


def thin_and_late() -> SomeDoes:
    return fed(dry(60, 136, 2, {MIXED: 2600}, 150, held(225)))


def test_a_thin_late_doe_whose_appetite_falls_gets_grain_though_she_then_eats_less_than_the_least_hay() -> None:
    does = thin_and_late()
    assert word(does.farm(), "ada") == "condition_thin_late"
    assert {line["feed"] for line in does.acts("ada")["offered"][0]["lines"]} == {BARLEY}
    after = with_first_act(does, 12)
    # as much of it as she wants stands before her, and grain keeps within its share
    assert after["forage_g"] < least_forage_g(does)
    assert after["dm"] >= 0.98 * after["appetite_g"]
    assert after["dm_by"][BARLEY] <= 0.4 * after["dm"]


def test_an_early_doe_keeps_her_least_hay() -> None:
    does = fed(dry(60, 40, 2, {GRASS: 1700}, 0, held(200)))
    assert with_first_act(does, 21)["forage_g"] >= least_forage_g(does)
    assert with_first_act(fed(dry(60, 40, 2, {GRASS: 1400}, 200, held(225))), 21)["forage_g"] >= least_forage_g(does)


def test_what_a_milkers_meals_do_not_hold_is_given_at_a_third() -> None:
    does = fed(milker(60, 45, 3000, {LEGUME: 2400}, 700, {-20: 300, -2: 300}))
    assert word(does.farm(), "ada") == "phosphorus_short"
    act = does.acts("ada")["offered"][0]
    grain = {line["slot"]: line["steps"][-1][1] for line in act["lines"] if line["feed"] == BARLEY}
    assert "midday" in grain
    limit = does.outlooks(0)["ada"]["limits"]["grain_meal_g"]
    assert all(g <= limit for g in grain.values())
    # who is dry gets hers at the meals she has
    assert {line["slot"] for line in thin_and_late().acts("ada")["offered"][0]["lines"]} <= {"morning", "evening"}


@pytest.mark.parametrize("day", [112, 114, 116])
def test_calcium_that_cannot_last_until_she_kids_is_brought_up_for_a_fortnight(day: int) -> None:
    does = fed(dry(60, day, 2, {GRASS: 1200, POOR: 1200}, 300, held(325)))
    assert word(does.farm(), "ada") == "calcium_heading_short"
    act = does.acts("ada")["offered"][0]
    assert act["brings"]["of"] == "ca"
    does.adopt(act)
    after = does.farm().ask("day_sums", "ada", does.on(14), True)
    assert after["got"]["ca"] >= 0.9 * after["need"]["ca"]
    # energy stays
    before = fed(dry(60, day, 2, {GRASS: 1200, POOR: 1200}, 300, held(325))).farm()
    was = before.ask("day_sums", "ada", does.on(14), True)["got"]["me"]
    assert after["got"]["me"] >= 0.97 * was


def beside_a_fat_mate(hay_g: int, *days: int) -> SomeDoes:
    """Three at one feeder: one fat, two thin."""
    does = barn()
    for name, day in zip(("ada", "briar", "bea"), days, strict=True):
        does.doe(name, 60, day, 2, "west", **STANDARD)
    does.given("west", **{GRASS: hay_g})
    does.scored("ada", 400, -40, -5)
    for name in ("briar", "bea"):
        does.scored(name, 275, -40)
        does.scored(name, 225, -5)
    does.fed_as_planned(-28, -1)
    return does


@pytest.mark.parametrize(("hay_g", "days"), [(5400, (60, 60, 60)), (4200, (60, 60, 60)), (5400, (60, 110, 110))])
def test_where_nothing_in_the_feeder_suits_all_each_thin_doe_gets_her_own(hay_g: int, days: tuple[int, ...]) -> None:
    does = beside_a_fat_mate(hay_g, *days)
    act = does.acts("west")["offered"][0]
    each = {one["doe"]: one["brings"] for one in act["each"]}
    assert set(each) == {"briar", "bea"}
    assert all(brings["to_pm"] > brings["from_pm"] for brings in each.values())
    # on their own pages too
    assert all(does.acts(name)["offered"][0]["lines"] == act["lines"] for name in each)
    assert {"briar", "bea"} <= {line["subject"] for line in act["lines"]} <= {"briar", "bea", "west"}
    energy = [does.farm().ask("day_sums", "ada", does.on(14), True)["got"]["me"]]
    does.adopt(act)
    energy.append(does.farm().ask("day_sums", "ada", does.on(14), True)["got"]["me"])
    # and the fat one no more by what they leave her
    assert 0.9 * energy[0] <= energy[1] <= 1.03 * energy[0]


def unweighed(does: SomeDoes) -> SomeDoes:
    does.log.events = [event for event in does.log.events if event["kind"] != "weight"]
    return does


def test_who_was_never_weighed_gets_a_smaller_part_of_grain() -> None:
    part = []
    for does in (thin_and_late(), unweighed(thin_and_late())):
        after = with_first_act(does, 12)
        # of what she eats in the day, though hay of the morning and grain of the evening are more
        part.append(after["dm_by"][BARLEY] / min(after["dm"], after["appetite_g"]))
    # 40 % is the most: nobody knows how much hay she eats beside it, nor how far her appetite falls
    assert part[1] <= 0.29 < 0.32 < part[0] <= 0.361
