"""The clock of a kidding night: set back to when it began, over once kids are out, one rule for the afterbirth."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.days import shift
from tests.outlook.test_afterbirth import out, placenta
from tests.outlook.test_dam_looks import DAM_WELL, look_at_dam
from tests.outlook.test_kidding_safety import HOUR_MS, WELL, heard, kidded, look, said, words
from tests.outlook.test_labour import near
from tests.outlook.test_off_feed import judged
from tests.support.flat_doe import TODAY
from tests.support.log import Log

MIN_MS = 60_000


def sign(log: Log, what: str, happened: int, entered: int = 0) -> None:
    times: dict[str, Any] = {"happened": happened, **({"entered": entered} if entered else {})}
    log.add("signs", "fern", {"seen": [what], "absent": []}, TODAY, "late", **times)


def night() -> tuple[Log, dict[str, Any], int]:
    log, over = near()
    log.add("note", "fern", {"text": "quiet"}, TODAY, "late")
    return log, over, int(log.events[-1]["happened"]) + HOUR_MS


def test_pushing_that_was_seen_before_the_phone_was_at_hand_counts_from_then() -> None:
    log, over, at = night()
    sign(log, "straining", at + 24 * MIN_MS)
    assert judged(log, over)["labour"]["args"]["vet_at_ms"] == at + 54 * MIN_MS
    sign(log, "straining", at)
    assert judged(log, over)["labour"]["args"]["vet_at_ms"] == at + 30 * MIN_MS


@pytest.mark.parametrize(("signs", "counts"), [(["water_bag"], "water_bag"), (["water_bag", "straining"], "straining")])
def test_water_alone_is_no_pushing(signs: list[str], counts: str) -> None:
    log, over, at = night()
    for k, one in enumerate(signs):
        sign(log, one, at + k * MIN_MS)
    assert judged(log, over)["labour"]["args"]["sign"] == counts


def test_once_a_kid_is_out_nobody_is_past_her_date() -> None:
    log, over, at = night()
    over["due"] = {"early": shift(TODAY, -12), "mid": shift(TODAY, -7), "late": shift(TODAY, -3), "printed": TODAY}
    assert judged(log, over)["prompt"]["code"] == "overdue"
    sign(log, "kid_out", at)
    assert judged(log, over)["prompt"]["code"] != "overdue"


def test_one_that_hangs_is_given_its_twelve_hours_and_is_not_missing_at_two() -> None:
    hangs = out("hanging", 0.5)
    args = placenta(hangs)["args"]
    assert [code for _, code in args["turns"]] == ["placenta_vet"]
    assert args["recheck_ms"] == args["late_ms"] == hangs[2] + 12 * HOUR_MS
    assert said(hangs, 2.5) != "placenta_look"
    assert heard(hangs, 12)["code"] == "placenta_vet"


def test_not_seen_is_asked_after_at_two_hours_and_the_vets_at_twelve() -> None:
    gone = out("not_seen", 0.5)
    args = placenta(gone)["args"]
    assert (args["recheck_ms"], args["late_ms"]) == (gone[2] + 2 * HOUR_MS, gone[2] + 12 * HOUR_MS)
    assert said(gone, 2.1) == "placenta_look"


def dam_wait(found: Any) -> dict[str, Any]:
    return next(word["args"] for word in words(found) if word["code"] == "dam_wait")


def test_a_look_at_the_dam_as_the_kids_come_is_not_the_one_at_two_hours() -> None:
    found = kidded()
    look_at_dam(found, 0.02, **DAM_WELL)
    assert dam_wait(found)["recheck_ms"] == found[2] + 2 * HOUR_MS


def test_a_dull_dam_is_looked_at_again_within_the_hour() -> None:
    found = kidded()
    look_at_dam(found, 2, **{**DAM_WELL, "bright": "no"})
    assert dam_wait(found)["recheck_ms"] == found[2] + 3 * HOUR_MS
    look_at_dam(found, 3, **DAM_WELL)
    assert dam_wait(found)["recheck_ms"] == found[2] + 12 * HOUR_MS


def test_a_kid_on_the_bottle_is_not_left_until_the_third_day() -> None:
    found = kidded(born=1, alive=1)
    for hours in (2, 6, 12):
        look(found, hours, 1, **WELL)
    look(found, 30, 1, **{**WELL, "fed": "bottle"})
    args = next(word["args"] for word in words(found) if word["code"] == "kids_wait")
    assert abs(args["recheck_ms"] - found[2] - 36 * HOUR_MS) < MIN_MS
    look(found, 31, 1, **WELL)
    assert next(word["args"] for word in words(found) if word["code"] == "kids_wait")["recheck_ms"] > args["recheck_ms"]


def test_a_dull_dam_with_it_inside_does_not_wait_for_the_twelve() -> None:
    hangs = out("hanging", 0.5)
    look_at_dam(hangs, 3, bright="no")
    assert placenta(hangs)["args"]["why"] == "ill"


def test_a_cold_kid_that_does_not_swallow_keeps_both() -> None:
    found = kidded()
    look(found, 0.5, 1, mouth="cold", swallows="no")
    assert heard(found, 0.6)["args"]["why"] == "cold_no_swallow"


@pytest.mark.parametrize("gone", ["sold", "other"])
def test_nobody_is_sent_to_look_at_a_kid_that_was_sold(gone: str) -> None:
    found = kidded()
    log, _, at = found
    for n in (1, 2):
        log.record("kid", f"kid{n}", dam="fern", n=n, born_on=TODAY, born_min=at // MIN_MS)
    kids = next(word["args"]["kids"] for word in words(found) if word["code"] == "kids_wait")
    assert kids == [1, 2]
    log.record("kid", "kid2", out=gone, out_on=TODAY)
    kids = next(word["args"]["kids"] for word in words(found) if word["code"] == "kids_wait")
    assert kids == [1]
