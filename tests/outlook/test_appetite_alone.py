"""A fall in appetite before kidding is no fault of the feed, and alone raises no prompt. Figures worked by hand."""

from __future__ import annotations

from typing import Any

from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

TODAY = "2026-11-20"
DUE = {"early": shift(TODAY, 10), "mid": shift(TODAY, 14), "late": shift(TODAY, 18), "printed": shift(TODAY, 14)}


def shared_hay(**feeds: int) -> Log:
    log = Log()
    log.record("doe", "fern", name="Fern", size="standard")
    log.pen("p", "fern")
    log.add("bred", "fern", {"from_on": "2026-09-01", "to_on": "2026-09-01", "how": "hand", "buck": ""}, "2026-09-01")
    for feed, g in feeds.items():
        log.ration("p", "morning", feed, ("2026-09-01", g))
    for back in range(8):
        log.fed("p", shift(TODAY, -back), "morning", *(("", feed, g) for feed, g in feeds.items()))
    log.score("fern", shift(TODAY, -2), 300)
    return log


def result(log: Log, **over: Any) -> dict[str, Any]:
    """Day 130; appetite 1500 g up to tomorrow, 1000 g from then on."""
    days = {"gest": 130, "floor_me_kj": 7000, "appetite_g": [1500] * 16 + [1000] * 44, **over}
    looks = {"fern": outlook("fern", TODAY, {"as_is": branch(**days)}, due=DUE)}
    return dict(evaluate(fold(log.events), looks, book(), TODAY)["does"]["fern"])


def test_less_calcium_eaten_from_the_same_hay_is_no_swing() -> None:
    # 1800 g x 0.9 x 0.85 = 1377 g DM: 5,508 mg; then 1000 g: 4,000 mg, 27 % less, 1,333 permille of 3,000
    said = result(shared_hay(hay=1800), ca_mg=3000)
    assert said["lines"]["ca"]["ahead"] is None


def test_poorer_hay_in_the_last_weeks_is_a_swing() -> None:
    log = shared_hay(hay=1100, alfalfa=700)
    seen = {event["data"]["feed"]: event["hlc"] for event in log.events if event["kind"] == "ration"}
    log.ration("p", "morning", "alfalfa", (shift(TODAY, 3), 0), base=seen["alfalfa"])
    log.ration("p", "morning", "hay", (shift(TODAY, 3), 1800), base=seen["hay"])
    # 7.9 g a kg to 4: a swing, and 4,000 mg of 3,000 is less than the one and a half that would excuse it
    assert result(log, ca_mg=3000)["lines"]["ca"]["ahead"] == {"st": "short", "on": shift(TODAY, 3)}


def test_protein_no_shorter_than_energy_late_is_her_appetite() -> None:
    # 1377 g DM: 137,700 mg of 170,000 is 810 permille; 11,016 of 16,000 kJ is 688
    said = result(shared_hay(hay=1800), cp_mg=170000, me_kj=16000)
    assert said["lines"]["cp"]["st"] == "short"
    assert said["prompt"] is None


def test_protein_shorter_than_energy_late_is_poor_feed() -> None:
    # 810 permille again, energy 11,016 of 12,000: 918
    said = result(shared_hay(hay=1800), cp_mg=170000, me_kj=12000)
    assert (said["prompt"]["code"], said["prompt"]["args"]["pm"]) == ("protein_short", 810)


def test_a_mate_who_eats_on_while_her_appetite_falls_is_no_cut() -> None:
    log = shared_hay(hay=3200)
    log.record("doe", "moss", name="Moss", size="standard")
    log.add("moved", "moss", {"pen": "p"}, "2026-01-01")
    days = {"gest": 130, "floor_me_kj": 7000, "appetite_g": [1500] * 16 + [1000] * 44}
    bare = dict.fromkeys(("bred", "check", "dried", "kidded", "weight"), "")
    looks = {
        "fern": outlook("fern", TODAY, {"as_is": branch(**days)}, due=DUE),
        "moss": outlook("moss", TODAY, {"as_is": branch()}, basis=bare),
    }
    # of 2448 g she would eat half with 1500 g of appetite and two fifths with 1000 g; half is offered her on both days
    assert evaluate(fold(log.events), looks, book(), TODAY)["does"]["fern"]["prompt"] is None
