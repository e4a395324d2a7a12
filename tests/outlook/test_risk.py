"""Risk on the phone: in its weeks only, points added by hand, and a prompt only where nothing else says it."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.outlooks import RISK, book, branch, outlook

TODAY = "2026-11-20"
TRIPLETS = {**RISK, "toxemia": [["triplets", 3]], "litter": [["triplets", 2]]}
LATE = {"gest": 120, "floor_me_kj": 9000}


class Fern:
    """A doe alone in her pen, due in some days, fed hay for eight days."""

    def __init__(self, grams: int = 1600, to_go: int = 20, risk: dict[str, Any] = RISK, **figures: Any) -> None:
        self.log = Log()
        self.log.record("doe", "fern", name="Fern", size="standard")
        self.log.pen("p", "fern")
        service = {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}
        self.log.add("bred", "fern", service, "2026-09-01")
        self.log.ration("fern", "morning", "hay", ("2026-09-01", grams))
        for back in range(7, -1, -1):
            self.log.fed("p", shift(TODAY, -back), "morning", ("fern", "hay", grams))
        due = {name: shift(TODAY, to_go + k) for name, k in (("early", -6), ("mid", 0), ("late", 6), ("printed", 0))}
        self.outlook = outlook("fern", TODAY, {"as_is": branch(**{**LATE, **figures})}, due=due, risk=risk)

    def scored(self, x100: int, ago: int = 3) -> Fern:
        self.log.score("fern", shift(TODAY, -ago), x100)
        return self

    def checked(self, **reading: Any) -> Fern:
        self.log.add("checkup", "fern", {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", **reading}, TODAY)
        return self

    def moved(self, ago: int) -> Fern:
        self.log.record("pen", "q", name="q")
        self.log.add("moved", "fern", {"pen": "q"}, shift(TODAY, -ago))
        return self

    def result(self) -> dict[str, Any]:
        return dict(evaluate(fold(self.log.events), {"fern": self.outlook}, book(), TODAY)["does"]["fern"])

    def points(self, of: str) -> dict[str, int]:
        risk = self.result()["risk"][of]
        assert risk["points"] == max(0, sum(factor["points"] for factor in risk["factors"]))
        return {factor["code"]: factor["points"] for factor in risk["factors"]}


@pytest.mark.parametrize(("to_go", "there"), [(43, False), (42, True), (1, True)])
def test_toxemia_is_looked_at_in_the_last_six_weeks_only(to_go: int, there: bool) -> None:
    assert bool((Fern(to_go=to_go).result()["risk"] or {}).get("toxemia")) is there


@pytest.mark.parametrize(("gest", "there"), [(107, False), (108, True)])
def test_milk_fever_is_looked_at_from_day_108(gest: int, there: bool) -> None:
    assert bool((Fern(to_go=50, gest=gest).result()["risk"] or {}).get("milk_fever")) is there


def test_before_the_late_weeks_there_is_none() -> None:
    assert Fern(to_go=60, gest=80).result()["risk"] is None


@pytest.mark.parametrize(
    ("x100", "found"), [(425, {"fat": 2}), (400, {"fat": 2}), (300, {}), (225, {}), (200, {"thin": 2})]
)
def test_condition_off_either_way(x100: int, found: dict[str, int]) -> None:
    """Fat from 4.0, thin to 2.0; the last four weeks always count one."""
    assert Fern().scored(x100).points("toxemia") == {"last_month": 1, **found}


@pytest.mark.parametrize(
    ("grams", "found"), [(1600, {}), (1250, {}), (1150, {"energy_short": 1}), (900, {"energy_well_short": 2})]
)
def test_energy_counts_against_what_she_can_eat_to(grams: int, found: dict[str, int]) -> None:
    """900 x 0.9 x 8 = 6480 kJ is 720 permille of 9000; 1150 g are 920; 1250 g are 1000 though need is 10 000."""
    assert Fern(grams).points("toxemia") == {"last_month": 1, **found}


@pytest.mark.parametrize(
    ("reading", "found"),
    [
        ({"bhb_x10": 3}, {"ketones_clear": -1}),
        ({"bhb_x10": 6}, {"ketones_watch": 1}),
        ({"bhb_x10": 9}, {"ketones_act": 3}),
        ({"bhb_x10": 20}, {"ketones_vet": 6}),
        ({"urine": "none"}, {}),
        ({"urine": "small"}, {"ketones_act": 3}),
    ],
)
def test_ketones(reading: dict[str, Any], found: dict[str, int]) -> None:
    fern = Fern().checked(**reading)
    assert fern.points("toxemia") == {"last_month": 1, **found}
    assert fern.result()["risk"]["toxemia"]["by_sign"] is ("ketones_vet" in found)


@pytest.mark.parametrize(("ago", "counts"), [(0, True), (3, True), (4, False)])
def test_a_move_counts_for_three_days(ago: int, counts: bool) -> None:
    assert ("upset" in Fern().moved(ago).points("toxemia")) is counts


def test_every_factor_more_is_no_fewer_points() -> None:
    plain = Fern()
    worse = [Fern(risk=TRIPLETS), Fern(900), Fern().moved(1), Fern().scored(425), Fern().checked(bhb_x10=9)]
    least = plain.result()["risk"]["toxemia"]["points"]
    assert all(fern.result()["risk"]["toxemia"]["points"] > least for fern in worse)


def test_what_is_not_known_is_named_where_nothing_can_be_changed() -> None:
    assert Fern().result()["risk"]["toxemia"]["most"] == "find_ketones"
    assert Fern().checked(urine="none").result()["risk"]["toxemia"]["most"] == "find_score"
    uncounted = Fern(risk={**RISK, "counted": False}).checked(urine="none").result()
    assert uncounted["risk"]["toxemia"]["most"] == "find_litter"
    assert Fern().checked(urine="none").scored(300).result()["risk"]["toxemia"]["most"] == ""


def test_an_urgent_doe_with_nothing_to_change_has_no_prompt() -> None:
    """Triplets 3, last month 1, fat 2."""
    said = Fern(risk=TRIPLETS).scored(425).result()
    assert (said["risk"]["toxemia"]["points"], said["risk"]["toxemia"]["band"]) == (6, "urgent")
    assert not said["prompt"] or not said["prompt"]["code"].startswith("risk")


def test_an_alert_is_shown_and_never_said() -> None:
    said = Fern(risk=TRIPLETS).scored(300).result()
    assert said["risk"]["toxemia"]["band"] == "alert"
    assert not said["prompt"] or not said["prompt"]["code"].startswith("risk")


def test_an_urgent_doe_who_was_moved_is_said() -> None:
    """Triplets 3, last month 1, moved 1."""
    prompt = Fern(risk=TRIPLETS).scored(300).moved(1).result()["prompt"]
    assert prompt["code"] == "risk_toxemia"
    assert prompt["args"] == {"what": "upset", "points": 5}


def test_a_reading_or_a_refusal_speaks_and_the_risk_does_not() -> None:
    high = Fern(risk=TRIPLETS).moved(1).checked(bhb_x10=20).result()
    assert high["prompt"]["code"] == "ketones_vet"
    fern = Fern(risk=TRIPLETS).moved(1)
    fern.log.intake("fern", TODAY, "evening", "not_up")
    said = fern.result()
    assert said["prompt"]["code"] == "off_feed_vet"
    assert said["risk"]["milk_fever"]["by_sign"]


@pytest.mark.parametrize(("born", "found"), [(1, {}), (2, {"twins": 1}), (3, {"triplets": 2})])
def test_after_kidding_the_kids_born_count(born: int, found: dict[str, int]) -> None:
    """The litter she was thought to carry no longer does."""
    fern = Fern(risk=TRIPLETS)
    fresh = {f"kidded{born}": branch(phase=8, gest=-1, milk_g=1000)}
    fern.outlook["branches"] |= fresh
    fern.log.add("kidded", "fern", {"born": born, "alive": born}, TODAY)
    risk = fern.result()["risk"]
    assert risk["toxemia"] is None
    codes = {factor["code"]: factor["points"] for factor in risk["milk_fever"]["factors"]}
    assert {code: n for code, n in codes.items() if code in ("twins", "triplets")} == found
