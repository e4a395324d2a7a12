"""The dam herself after kidding, and her kids by their records: who must hear it and who must not."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_kidding_safety import HOUR_MS, Night, afterbirth, farm, kidded, look, said, words
from tests.outlook.test_labour import near
from tests.support.flat_doe import TODAY

DAM = {"drank": "", "ate": "", "halves": "", "discharge": "", "bright": ""}
DAM_WELL = {"drank": "yes", "ate": "yes", "halves": "both", "discharge": "normal", "bright": "yes"}


def look_at_dam(night: Night, hours: float, **told: str) -> None:
    log, _, born = night
    at = born + int(hours * HOUR_MS)
    log.add("dam_look", "fern", {**DAM, **told}, TODAY, "late", happened=at)


def dam_words(night: Night) -> list[tuple[str, str]]:
    return [(word["code"], word["args"]["why"]) for word in words(night) if word["code"].startswith("dam_")]


def test_the_dam_is_looked_at_herself_at_two_twelve_twenty_four_and_seventy_two_hours() -> None:
    night = kidded(born=0, alive=0)
    afterbirth(night, 0.1, "passed")
    for hours, why in ((2, "first"), (12, "next"), (24, "day"), (72, "last")):
        assert dam_words(night) == [("dam_wait", why)]
        day = shift(TODAY, hours // 24)
        assert said(night, hours - 0.1, day) != "dam_look"
        assert said(night, hours + 0.1, day) == "dam_look"
        look_at_dam(night, hours + 0.2, **DAM_WELL)
    assert dam_words(night) == []


def test_a_look_between_two_counts_as_the_nearer() -> None:
    night = kidded()
    look_at_dam(night, 6.5, **DAM_WELL)
    assert dam_words(night) == [("dam_wait", "next")]
    look_at_dam(night, 7.5, **DAM_WELL)
    assert dam_words(night) == [("dam_wait", "day")]


@pytest.mark.parametrize(
    ("told", "code", "why"),
    [
        ({"halves": "cold"}, "dam_vet", "cold"),
        ({"halves": "hot"}, "dam_vet", "hot"),
        ({"discharge": "foul"}, "dam_vet", "foul"),
        ({"discharge": "blood"}, "dam_vet", "blood"),
        ({"bright": "no"}, "dam_vet", "bright"),
        ({"ate": "no"}, "dam_vet", "ate"),
        ({"halves": "one"}, "dam_udder", "one"),
        ({"halves": "none"}, "dam_udder", "none"),
    ],
)
def test_what_is_wrong_with_the_dam_is_said_at_once_until_a_later_look(
    told: dict[str, str], code: str, why: str
) -> None:
    night = kidded()
    afterbirth(night, 0.5, "passed")
    look_at_dam(night, 12, **told)
    assert (code, why) in dam_words(night)
    assert said(night, 12.1) == code
    look_at_dam(night, 13, **DAM_WELL)
    assert [one for one, _ in dam_words(night)] == ["dam_wait"]


@pytest.mark.parametrize("told", [DAM_WELL, {"ate": "some"}, {"drank": "no"}, {"discharge": "normal"}])
def test_a_doe_that_is_well_sends_for_nobody(told: dict[str, str]) -> None:
    night = kidded()
    look_at_dam(night, 12, **told)
    assert [one for one, _ in dam_words(night)] == ["dam_wait"]


@pytest.mark.parametrize("told", [{"ate": "no"}, {"halves": "none"}])
def test_at_the_first_look_a_tired_doe_may_leave_her_hay_and_milk_may_still_come(told: dict[str, str]) -> None:
    night = kidded()
    look_at_dam(night, 1, **told)
    assert [one for one, _ in dam_words(night)] == ["dam_wait"]


def born(night: Night, kid: int, hours: float, who: str, **told: Any) -> None:
    """A kid tapped as it came: the sign, and the record, which phones of before gave one id."""
    log, _, last = night
    at = last + int(hours * HOUR_MS)
    log.add("signs", "fern", {"seen": ["kid_out"], "absent": []}, TODAY, "late", happened=at, author=who)
    f = {"dam": "fern", "n": kid, "born_on": TODAY, "born_min": at // 60_000, **told}
    log.add("kid", f"kid-{kid}", {"f": f, "base": {}}, TODAY, "late", happened=at, author=who)


def test_two_who_tap_the_same_kids_have_seen_no_more_of_them() -> None:
    log, over = near()
    night = log, over, int(log.events[-1]["happened"])
    for who, late in (("ada", 0.0), ("bea", 0.05)):
        for kid in (1, 2, 3):
            born(night, kid, 1 + kid / 4 + late, who)
    assert [kid["n"] for kid in farm(night).ask("kids_at", "fern", night[2] + 2 * HOUR_MS)] == [1, 2, 3]


def test_a_kid_whose_record_says_dead_is_not_among_those_alive() -> None:
    log, over = near()
    night = log, over, int(log.events[-1]["happened"])
    born(night, 1, 1, "ada")
    born(night, 2, 1.2, "ada", came="dead")
    look(night, 1.3, 2, dead=True)
    assert [kid["n"] for kid in farm(night).ask("kids_at", "fern", night[2] + 2 * HOUR_MS)] == [1]


@pytest.mark.parametrize(("told", "why"), [({"halves": "hot"}, "hot"), ({"discharge": "foul"}, "foul")])
def test_what_is_wrong_with_her_is_heard_as_long_as_she_is_fresh(told: dict[str, str], why: str) -> None:
    night = kidded(born=0, alive=0)
    afterbirth(night, 0.1, "passed")
    look_at_dam(night, 9 * 24, **told)
    on = shift(TODAY, 9)
    assert [(word["code"], word["args"]["why"]) for word in words(night, on)] == [("dam_vet", why)]
    assert said(night, 9 * 24 + 1, on) == "dam_vet"
    assert words(night, shift(TODAY, 22)) == []
    look_at_dam(night, 9 * 24 + 5, **DAM_WELL)
    assert words(night, on) == []


def test_a_cold_kid_is_looked_at_again_in_half_an_hour() -> None:
    night = kidded()
    look(night, 0.5, 2, mouth="cold")
    at_ms = night[0].events[-1]["happened"]
    assert [word["args"]["recheck_ms"] for word in words(night) if word["code"] == "kid_cold"] == [at_ms + HOUR_MS // 2]
    told = [clock for clock in farm(night).ask("clocks", at_ms) if clock["code"] == "kid_cold"]
    assert [clock["at_ms"] for clock in told] == [at_ms, at_ms + HOUR_MS // 2]
    assert all(clock["urgent"] for clock in told)
