"""The checker of acts and the searcher, on plans written by hand: each limit broken, and each kept."""

from __future__ import annotations

import pytest

from .keeper import Keeper
from .limits import broken
from .plan import Steps
from .sample import GOOD, Farm, Pen, farm
from .search import safe_act
from .truth.goat import Goat

DAY = 5
HAY, LEGUME = "lot1", "lot2"


@pytest.fixture
def keeper() -> Keeper:
    """Two dry does of 60 kg on day 60 before one feeder, 3 kg of fair grass hay for both, no grain."""
    drawn = farm(7, 3)
    drawn.habits.weighs, drawn.habits.plans, drawn.habits.waste = "scale", True, 0.1
    does = drawn.does[:2]
    for doe in does:
        doe.size, doe.kg, doe.mature_kg, doe.first, doe.hunger = "standard", 60.0, 60.0, False, 1.0
        doe.bred, doe.kidded_before, doe.dried, doe.condition, doe.litter = -60, None, None, 3.0, 2
    drawn.land.eats_g = 64.0
    pen = Pen("pen", [doe.name for doe in does], GOOD, "by the flake", "hay", 0.0, 1.0, -99, 0.0, 1.2)
    made = Keeper(Farm(drawn.seed, drawn.land, drawn.habits, drawn.feeds, does, [pen]))
    for slot in ("morning", "evening"):
        made.plan.enter("pen", "pen", slot, HAY, [(-20, 1500)], -20)
    return made


def first(keeper: Keeper) -> Goat:
    return keeper.farm.does[0]


def limits(keeper: Keeper, *lines: tuple[str, str, str, Steps]) -> set[str]:
    after = dict(keeper.plan.steps)
    for subject, slot, feed, steps in lines:
        after[subject, slot, feed] = [s for s in after.get((subject, slot, feed), []) if s[0] < steps[0][0]] + steps
    return {one.limit for one in broken(keeper, first(keeper), keeper.plan.steps, after, DAY)}


def grain_of(keeper: Keeper) -> str:
    return keeper.farm.feeds["grain"].id


def ramp(to: int, by: int, apart: int = 3) -> Steps:
    return [(DAY + apart * k, min(to, by * (k + 1))) for k in range(-(-to // by))]


def test_the_same_plan_breaks_nothing(keeper: Keeper) -> None:
    assert limits(keeper) == set()


def test_a_step_of_grain_is_a_quarter_pound_and_two_days_apart(keeper: Keeper) -> None:
    name, grain = first(keeper).name, grain_of(keeper)
    assert limits(keeper, (name, "morning", grain, ramp(200, 100))) == set()
    assert limits(keeper, (name, "morning", grain, ramp(200, 200))) == {"grain step"}
    assert limits(keeper, (name, "morning", grain, ramp(200, 100, apart=1))) == {"raises apart"}
    first(keeper).size = "mini"
    assert "grain step" in limits(keeper, (name, "morning", grain, ramp(200, 100)))


def test_a_meal_and_a_day_of_grain_have_their_most(keeper: Keeper) -> None:
    name, grain = first(keeper).name, grain_of(keeper)
    assert "grain a meal" in limits(keeper, (name, "morning", grain, ramp(500, 110)))
    both = [(name, slot, grain, ramp(350, 55)) for slot in ("morning", "evening")]
    assert "grain a day by weight" not in limits(keeper, *both)
    most = [(name, slot, grain, [(DAY + 3 * k, 100 * (k + 1)) for k in range(4)]) for slot in ("morning", "evening")]
    assert "grain a day by weight" in limits(keeper, *most)


def test_hay_stays_above_what_a_rumen_wants_and_is_not_changed_overnight(keeper: Keeper) -> None:
    name = first(keeper).name
    taken = [("pen", slot, HAY, [(DAY, 600)]) for slot in ("morning", "evening")]
    assert "forage" in limits(keeper, *taken)
    swapped = [
        ("pen", slot, feed, [(DAY, g)]) for slot in ("morning", "evening") for feed, g in ((HAY, 0), (LEGUME, 1500))
    ]
    assert "switch of hay" in limits(keeper, *swapped)
    slowly = [(DAY + 3 * k, 150 * (k + 1)) for k in range(3)]
    assert limits(keeper, (name, "morning", LEGUME, slowly)) == set()


def test_late_she_is_not_cut_and_early_she_may_be(keeper: Keeper) -> None:
    less = [("pen", slot, HAY, [(DAY, 1250)]) for slot in ("morning", "evening")]
    assert limits(keeper, *less) == set()
    for doe in keeper.farm.does:
        doe.bred = -110
    assert limits(keeper, *less) == {"late cut"}


def test_calcium_stands_above_phosphorus(keeper: Keeper) -> None:
    name, grain = first(keeper).name, grain_of(keeper)
    keeper.plan.enter("doe", name, "morning", grain, [(-20, 440)], -20)
    keeper.plan.enter("doe", name, "evening", grain, [(-20, 440)], -20)
    for slot in ("morning", "evening"):
        keeper.plan.enter("pen", "pen", slot, HAY, [(-20, 1300)], -20)
    more = [(name, slot, grain, [(DAY, 445)]) for slot in ("morning", "evening")]
    assert "calcium to phosphorus" in limits(keeper, *more)


def test_a_limit_she_is_past_already_may_be_neared(keeper: Keeper) -> None:
    name, grain = first(keeper).name, grain_of(keeper)
    keeper.plan.enter("doe", name, "morning", grain, [(-20, 700)], -20)
    assert limits(keeper, (name, "morning", grain, [(DAY, 600), (DAY + 4, 500)])) == set()


def test_the_searcher_fills_a_feeder_that_is_short_and_finds_nothing_where_nothing_is(keeper: Keeper) -> None:
    doe = first(keeper)
    for slot in ("morning", "evening"):
        keeper.plan.enter("pen", "pen", slot, HAY, [(-20, 900)], -20)
    assert safe_act(keeper, doe, DAY, "me", 2000.0) == "fill"
    assert safe_act(keeper, doe, DAY, "me", 30_000.0) == ""


def test_the_searcher_takes_grain_away_early_and_never_late(keeper: Keeper) -> None:
    doe = first(keeper)
    keeper.plan.enter("doe", doe.name, "morning", grain_of(keeper), [(-20, 300)], -20)
    assert safe_act(keeper, doe, DAY, "me", -2000.0) == "grain_down"
    doe.bred = -110
    assert safe_act(keeper, doe, DAY, "me", -2000.0) == ""
