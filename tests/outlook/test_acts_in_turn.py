"""Acts as a phone works them, in steps and in turn on one farm, against one doe at a time on a farm nobody asked."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from frontend import client_build
from herd.outlook.evaluate import FarmDay
from tests.simulation.acts import ASKED
from tests.simulation.barn import live_day
from tests.simulation.days import WARM_UP_D, on
from tests.simulation.keeper import Keeper
from tests.simulation.phone import Phone
from tests.simulation.sample import farm as sampled
from tests.support.act_farm import BARLEY, GRASS, LEGUME, POOR, barn, farm_of
from tests.support.some_does import MINIATURE, STANDARD

SEED, FARMS = 3, 12
MOST_IN_A_STEP, MOST_IN_A_SEARCH = 3_000, 100_000


def at_one_feeder() -> FarmDay:
    """Four that carry late on poor hay, two thin ones and a small one: what one gets of her own moves all others."""
    does = barn()
    for i in range(4):
        does.doe(f"late{i}", 58 + i, 110 + i, 2, "long", **STANDARD)
        does.scored(f"late{i}", 300, -3)
        does.given(f"late{i}", **{BARLEY: 200})
    for i in range(2):
        does.doe(f"thin{i}", 60, 50 + i, 2, "long", **STANDARD)
        does.scored(f"thin{i}", 225, -5)
    does.doe("small", 30, 70, 1, "long", **MINIATURE)
    does.given("long", **{POOR: 7000, GRASS: 2000, LEGUME: 400})
    does.fed_as_planned(-28, -1)
    return does.farm()


def simulated(number: int) -> FarmDay:
    keeper, phone = Keeper(sampled(SEED, number)), Phone()
    for day in range(-WARM_UP_D, ASKED + 1):
        live_day(keeper, day)
    phone.look(keeper.log.events, ASKED, on(ASKED))
    assert phone.farm is not None
    return phone.farm


def written(file: Path, farms: list[FarmDay], read_by: str = "acts_twin") -> Any:
    lines = [json.dumps([farm.view, farm.outlooks, farm.book, farm.day]) for farm in farms]
    file.write_text("\n".join(lines))
    done = client_build.run([f"tests/support/{read_by}.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


@pytest.mark.slow
def test_in_turn_the_same_is_found_and_it_brings_what_it_promises(tmp_path: Path) -> None:
    farms = [farm_of().farm(), at_one_feeder(), *(simulated(number) for number in range(FARMS))]
    found = written(tmp_path / "farms.jsonl", farms)
    assert found["differ"] == []
    assert found["offered"] > 40
    assert found["for_pens"] > 3
    assert found["promised"] > found["offered"]
    # what was found stands after a meal was left in another pen
    assert found["stood"] > 40


def test_a_search_is_worked_in_small_steps(tmp_path: Path) -> None:
    """In look-ups, of which a slow phone does some hundred in a millisecond."""
    found = written(tmp_path / "farms.jsonl", [farm_of().farm(), at_one_feeder()], "acts_steps")
    assert max(one["most"] for one in found) < MOST_IN_A_STEP
    assert max(one["all"] for one in found) < MOST_IN_A_SEARCH
