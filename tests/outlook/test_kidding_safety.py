"""Kidding night: a kid's warmth before its milk, the looks at it, a bulge behind. Each rule has a doe who must hear it
and one who must not, by the clock. Of the afterbirth: test_afterbirth.py."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.state.fold import fold
from tests.outlook.test_labour import near, seen
from tests.support.flat_doe import TODAY
from tests.support.log import Log
from tests.support.outlooks import book, outlook

HOUR_MS = 3_600_000
Night = tuple[Log, dict[str, Any], int]
BLANK = {"mouth": "", "rectal_c_x10": 0, "swallows": "", "fed": "", "up": "", "belly": "", "dead": False}
WELL = {"mouth": "warm", "swallows": "yes", "fed": "sucked", "up": "yes", "belly": "full"}


def kidded(born: int = 2, alive: int = 2, timed: bool = True) -> Night:
    """Fern has kidded this evening; the last kid came at the time given back."""
    log, over = near()
    log.add("kidded", "fern", {"born": born, "alive": alive, "timed": timed}, TODAY, "evening", v=2)
    over["basis"]["kidded"] = TODAY
    return log, over, int(log.events[-1]["happened"])


def look(night: Night, hours: float, *kids: int, **told: Any) -> None:
    log, _, born = night
    for kid in kids:
        at = born + int(hours * HOUR_MS) + kid
        log.add("kid_look", "fern", {"kid": kid, **BLANK, **told}, TODAY, "late", happened=at)


def afterbirth(night: Night, hours: float, what: str) -> None:
    log, _, born = night
    log.add("afterbirth", "fern", {"seen": what}, TODAY, "late", happened=born + int(hours * HOUR_MS))


def farm(night: Night, day: str = TODAY) -> FarmDay:
    log, over, _ = night
    return FarmDay(fold(log.events), {"fern": outlook("fern", TODAY, **over)}, book(), day)


def heard(night: Night, hours: float, day: str = TODAY) -> dict[str, Any]:
    return dict(farm(night, day).ask("prompt_at", "fern", night[2] + int(hours * HOUR_MS)) or {"code": "", "args": {}})


def said(night: Night, hours: float, day: str = TODAY) -> str:
    return str(heard(night, hours, day)["code"])


def words(night: Night, day: str = TODAY) -> list[dict[str, Any]]:
    return list(farm(night, day).ask("results")["does"]["fern"]["first_days"])


def waiting(night: Night, hours: float, day: str = TODAY) -> dict[str, Any]:
    """What the kids wait for, while that asks nothing of anybody yet."""
    assert not said(night, hours, day).startswith("kid")
    return dict(next(word["args"] for word in words(night, day) if word["code"] == "kids_wait"))


def first_feed(night: Night, hours: float) -> list[int]:
    """Millilitres a kilogram that may be shown of each kid; 0 is none."""
    return [kid["ml_kg"] for kid in farm(night).ask("kids_at", "fern", night[2] + int(hours * HOUR_MS))]


@pytest.mark.parametrize(
    ("told", "may"),
    [
        ({}, False),
        ({"mouth": "warm"}, False),
        ({"rectal_c_x10": 388}, False),
        ({"swallows": "yes"}, False),
        ({"fed": "sucked"}, False),
        ({"mouth": "warm", "swallows": "yes"}, True),
        ({"rectal_c_x10": 378, "swallows": "yes"}, True),
        ({"rectal_c_x10": 377, "swallows": "yes"}, False),
        ({"mouth": "warm", "rectal_c_x10": 377, "swallows": "yes"}, False),
        ({"mouth": "cold", "swallows": "yes"}, False),
        ({"mouth": "warm", "swallows": "no"}, False),
    ],
)
def test_no_amount_of_milk_before_warmth_and_swallowing_are_told(told: dict[str, Any], may: bool) -> None:
    night = kidded(born=1, alive=1)
    look(night, 0.5, 1, **told)
    assert [ml > 0 for ml in first_feed(night, 0.6)] == [may]


def test_each_kid_is_judged_by_itself_and_warmth_does_not_hold_for_ever() -> None:
    night = kidded()
    look(night, 0.5, 2, mouth="warm", swallows="yes")
    assert first_feed(night, 0.6) == [0, 50]
    assert first_feed(night, 3) == [0, 0]


@pytest.mark.parametrize(
    ("told", "why"),
    [
        ({"mouth": "cold"}, "cold"),
        ({"rectal_c_x10": 377}, "cold"),
        ({"mouth": "warm", "rectal_c_x10": 372}, "cold"),
        ({"mouth": "warm", "swallows": "no"}, "no_swallow"),
    ],
)
def test_a_cold_kid_or_one_that_does_not_swallow_is_for_the_card_now(told: dict[str, Any], why: str) -> None:
    night = kidded()
    look(night, 0.5, 2, **told)
    prompt = heard(night, 0.6)
    assert (prompt["code"], prompt["args"]["kids"], prompt["args"]["why"]) == ("kid_cold", [2], why)
    assert (prompt["rank"], prompt["args"]["rests"]) == (1, ["kid_cold"])


def test_warm_kids_are_no_cold_kids() -> None:
    night = kidded()
    look(night, 0.5, 1, 2, rectal_c_x10=378, swallows="yes")
    assert waiting(night, 0.6)["kids"] == [1, 2]


def test_a_cold_reading_is_undone_by_a_reading_alone() -> None:
    night = kidded(1, 1)
    look(night, 0.5, 1, rectal_c_x10=365)
    look(night, 0.6, 1, mouth="warm", swallows="yes")
    assert said(night, 0.7) == "kid_cold"
    look(night, 1.5, 1, rectal_c_x10=385)
    assert not said(night, 1.6).startswith("kid")


@pytest.mark.parametrize("hours", [2, 6, 12, 24, 72])
def test_the_kids_are_looked_at_at_every_hour_of_the_rule(hours: int) -> None:
    night = kidded()
    for done in (one for one in (2, 6, 12, 24, 72) if one < hours):
        look(night, done, 1, 2, **WELL)
    afterbirth(night, 1, "passed")
    day = shift(TODAY, hours // 24)
    before = waiting(night, hours - 0.5, day)
    assert (before["kids"], before["recheck_ms"]) == ([1, 2], night[2] + hours * HOUR_MS)
    due = heard(night, hours, day)
    assert (due["code"], due["args"]["kids"]) == ("kid_no_colostrum" if hours == 2 else "kids_look", [1, 2])


def test_a_kid_looked_at_leaves_only_the_other_to_be_looked_at() -> None:
    night = kidded()
    look(night, 1.5, 1, **WELL)
    assert waiting(night, 1.6)["kids"] == [2]
    assert heard(night, 2)["args"]["dry"] == [2]


def test_after_the_last_look_nothing_more_is_asked_of_well_kids() -> None:
    night = kidded()
    afterbirth(night, 1, "passed")
    for done in (2, 6, 12, 24, 72):
        look(night, done, 1, 2, **WELL)
    assert not said(night, 73, shift(TODAY, 3)).startswith("kid")


def test_no_colostrum_by_two_hours_is_acted_on_now() -> None:
    night = kidded()
    look(night, 0.5, 1, **WELL)
    look(night, 0.5, 2, mouth="warm", swallows="yes", fed="none")
    assert waiting(night, 1.9)["dry"] == [2]
    prompt = heard(night, 2)
    assert (prompt["code"], prompt["args"]["dry"], prompt["rank"]) == ("kid_no_colostrum", [2], 2)
    assert "kid_colostrum" in prompt["args"]["rests"]


@pytest.mark.parametrize("fed", ["sucked", "bottle", "tubed"])
def test_kids_that_drank_are_not_called_dry(fed: str) -> None:
    night = kidded()
    look(night, 0.5, 1, 2, mouth="warm", swallows="yes", fed=fed)
    afterbirth(night, 1, "passed")
    assert said(night, 2.5) == "kids_look"
    assert words(night)[0]["args"]["dry"] == []


def test_a_dead_kid_asks_for_nothing() -> None:
    night = kidded(born=2, alive=1)
    look(night, 0.2, 1, dead=True)
    assert waiting(night, 1)["kids"] == [2]
    assert [word["code"] for word in words(kidded(born=2, alive=0))] == ["placenta_wait", "dam_wait"]


def test_a_kid_that_comes_after_the_form_is_looked_at_too() -> None:
    log, over, at = kidded()
    log.add("signs", "fern", {"seen": ["kid_out"], "absent": []}, TODAY, "late", happened=at + HOUR_MS)
    assert [kid["n"] for kid in farm((log, over, at)).ask("kids_at", "fern", at)] == [1, 2, 3]
    log, over = near()
    for slot in ("midday", "evening"):
        seen(log, "kid_out", slot=slot)
    log.add("kidded", "fern", {"born": 2, "alive": 2, "timed": True}, TODAY, "late", v=2)
    assert [kid["n"] for kid in farm((log, over, at)).ask("kids_at", "fern", at)] == [1, 2]


def test_with_no_hour_written_down_the_earliest_is_taken_and_said() -> None:
    night = kidded(timed=False)
    prompt = heard(night, 0)
    assert (prompt["code"], prompt["args"]["timed"]) == ("kid_no_colostrum", False)
    assert "kid_hour_unsaid" in prompt["args"]["rests"]
    assert waiting(kidded(), 0)["timed"]


def test_a_kid_tapped_as_it_came_starts_the_clocks_before_any_form() -> None:
    log, over = near()
    first = seen(log, "kid_out", slot="midday")
    night = (log, over, first)
    assert waiting(night, 1.9)["kids"] == [1]
    assert said(night, 2) == "kid_no_colostrum"


@pytest.mark.parametrize("kidded_too", [False, True])
def test_a_bulge_behind_is_for_the_vet(kidded_too: bool) -> None:
    log, over = near()
    if kidded_too:
        log, over, _ = kidded()
    at = seen(log, "prolapse", "ligaments_gone", slot="late")
    prompt = heard((log, over, at), 0.1)
    when = "after" if kidded_too else "before"
    assert (prompt["code"], prompt["rank"], prompt["args"]["why"]) == ("prolapse_vet", 1, when)
    assert prompt["args"]["rests"] == ["prolapse"]


def test_no_bulge_no_call() -> None:
    log, over = near()
    at = seen(log, "ligaments_gone", absent=("prolapse",))
    assert said((log, over, at), 0.1) != "prolapse_vet"


def test_a_buck_has_no_kids_and_no_afterbirth() -> None:
    log, over, at = kidded()
    log.record("doe", "fern", sex="buck")
    assert words((log, over, at)) == []
