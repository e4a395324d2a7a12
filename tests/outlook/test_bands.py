"""How wide the band of protein and minerals is, worked by hand."""

from __future__ import annotations

from typing import Any

from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, days, one_doe, result
from tests.support.log import Log
from tests.support.outlooks import book, branch, outlook

SURE: dict[str, Any] = {"as_is": branch(me_sd_kj=0)}


def half_pm(line: dict[str, Any]) -> float:
    """What is wrong with feed and need multiplies: as many times more as less."""
    assert abs(line["hi"] / line["pm"] - line["pm"] / line["lo"]) < 0.005
    return float(1000 * line["hi"] / line["pm"] - 1000)


def two_feeds() -> Log:
    """Half her calcium from each of two feeds on her own stand: 700 g x 0.9 x 4 and 200 g x 0.9 x 14, both 2,520 mg."""
    log = one_doe(hay_g=700, confirm=0)
    for on in days(8):
        log.fed("p", on, "morning", ("fern", "hay", 700), ("fern", "alfalfa", 200))
    return log


def test_one_feed_on_her_own_stand_has_the_published_spread_and_the_scoops() -> None:
    line = result(one_doe(), SURE)["lines"]["ca"]
    # 380 of the feed and 1.282 x 70 of the amounts: root of 144,400 + 8,053 = 390
    assert abs(half_pm(line) - 390) < 3


def test_two_feeds_err_apart() -> None:
    line = result(two_feeds(), SURE)["lines"]["ca"]
    # each half of it: 380 / root 2 = 269, with the amounts 283
    assert line["got"] == 7 * 5040
    assert abs(half_pm(line) - 283) < 3


def test_a_tested_feed_is_surer_and_a_shared_feeder_less() -> None:
    feeds = book()
    feeds["feeds"]["hay"]["me_sd_pm"] = 50
    tested = evaluate(fold(one_doe().events), {"fern": outlook("fern", TODAY, SURE)}, feeds, TODAY)
    # half of 380, with the amounts: 210
    assert abs(half_pm(tested["does"]["fern"]["lines"]["ca"]) - 210) < 3
    shared = result(one_doe(own=False), SURE)["lines"]["cp"]
    # 190, 1.282 x 70 = 90 and 1.282 x 150 = 192: 285
    assert abs(half_pm(shared) - 285) < 3


def test_what_is_not_known_of_her_moves_her_need() -> None:
    line = result(one_doe())["lines"]["ca"]
    # need known to a tenth: 1.282 x 100 more beside 390: 411
    assert abs(half_pm(line) - 411) < 3
