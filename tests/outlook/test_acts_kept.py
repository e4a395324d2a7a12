"""Acts keep their distance from a limit by what nobody can know: her weight, her appetite, her part of a feeder."""

from __future__ import annotations

from typing import Any

import pytest

from tests.simulation.acts import ASKED, Case, asked
from tests.simulation.barn import live_day
from tests.simulation.days import WARM_UP_D, on
from tests.simulation.keeper import Keeper
from tests.simulation.phone import Phone
from tests.simulation.sample import farm as sampled


def farm(seed: int, number: int) -> tuple[Phone, dict[str, Case]]:
    keeper, phone = Keeper(sampled(seed, number)), Phone()
    for day in range(-WARM_UP_D, ASKED + 1):
        live_day(keeper, day)
    said = phone.look(keeper.log.events, ASKED, on(ASKED))
    return phone, {case.doe: case for case in asked(keeper, phone, said, ASKED)}


@pytest.mark.parametrize(
    ("seed", "number", "doe"),
    [
        # late, four kids: her grain of the evening is not hay she would eat beside it, nor has it its calcium
        pytest.param(4, 11, "doe4", id="late_calcium"),
        pytest.param(7, 15, "doe5", id="late_appetite"),
        # never weighed and late: she eats a third less than she is taken for
        pytest.param(8, 15, "doe3", id="late_by_class"),
        # what she gets of her own in the evening is not eaten on top of a full feeder: legume in its place is a cut
        pytest.param(8, 10, "doe1", id="late_cut"),
        # at a shared feeder: how much of it is hers
        pytest.param(3, 35, "doe0", id="shared_hay"),
        pytest.param(7, 22, "doe2", id="shared_hay_late"),
        # in milk she eats two thirds of what she is taken for, and her own hay is then more of it
        pytest.param(3, 46, "doe0", id="own_hay"),
    ],
)
def test_an_act_keeps_clear_of_a_limit_by_what_nobody_can_know(seed: int, number: int, doe: str) -> None:
    _, cases = farm(seed, number)
    assert cases[doe].code
    assert cases[doe].broke == []


def test_more_hay_for_all_is_not_stopped_by_a_heavy_mate_who_is_short_of_it_herself() -> None:
    phone, cases = farm(5, 37)
    names = {"doe0", "doe1", "doe2", "doe3"}
    assert all("short" in cases[name].code for name in names)
    [act] = phone.ask("acts", "doe0")["offered"]
    assert act["to"] == "pen"
    assert {each["doe"] for each in act["each"]} == names
    assert all(brings(each) > 0 for each in act["each"])


def brings(each: dict[str, Any]) -> int:
    return int(each["brings"]["to_pm"] - each["brings"]["from_pm"])
