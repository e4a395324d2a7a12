"""A phone's clock may be anything: nothing is refused for it, and what counts is put right and told."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import msgspec
import pytest

from herd.models import Event, Farm
from herd.services.bootstrap import bootstrap
from herd.services.clock import TRUSTED_MS, Correction, FarmClock
from herd.services.wire import canonical, replay
from herd.state.fold import fold
from tests.logs import record
from tests.people import ZONE
from tests.phones import Phone, new_id, now_ms

HOUR = 3_600_000
YEAR = 365 * 24 * HOUR
FILL = {"fill": 2, "uneven": False}


def at(text: str) -> int:
    return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).timestamp() * 1000)


def put_right(phone_time: str, true_time: str, on: str, event_time: str | None = None) -> dict[str, object]:
    """Effective values of an event recorded at `event_time` on the phone's clock and sent at once."""
    now, phone = at(true_time), at(phone_time)
    happened = at(event_time) if event_time else phone
    event = {"happened": happened, "entered": phone, "on": on, "hlc": f"{now:012x}-0000-aaaaaaaa"}
    return Correction(now, now - phone, ZONE, FarmClock(0, 0)).effective(event)


def test_a_phone_less_than_ten_minutes_off_is_believed() -> None:
    assert put_right("2026-11-25T06:09:00", "2026-11-25T06:00:00", "2026-11-25") == {}


def test_a_phone_an_hour_behind_is_put_right_in_time_but_not_in_date() -> None:
    eff = put_right("2026-11-25T05:00:00", "2026-11-25T06:00:00", "2026-11-25")
    assert eff == {"happened": at("2026-11-25T06:00:00")}


def test_an_hour_behind_over_midnight_moves_the_date() -> None:
    eff = put_right("2026-11-24T23:30:00", "2026-11-25T00:30:00", "2026-11-24")
    assert eff == {"happened": at("2026-11-25T00:30:00"), "on": "2026-11-25"}


def test_a_late_look_stays_yesterdays() -> None:
    eff = put_right("2026-11-25T00:30:00", "2026-11-25T01:30:00", "2026-11-24")
    assert eff == {"happened": at("2026-11-25T01:30:00")}


def test_a_year_ahead_moves_the_date_a_year_back() -> None:
    eff = put_right("2027-11-25T06:00:00", "2026-11-25T06:00:00", "2027-11-25")
    assert eff == {"happened": at("2026-11-25T06:00:00"), "on": "2026-11-25"}


@pytest.mark.parametrize(
    ("phone", "true", "on", "right"),
    [
        # Clocks go back in Vienna on 2026-10-25 at 03:00 and forward on 2027-03-28 at 02:00.
        ("2026-10-24T23:30:00", "2026-10-25T23:30:00", "2026-10-24", "2026-10-25"),
        ("2026-10-25T23:30:00", "2026-10-24T23:30:00", "2026-10-25", "2026-10-24"),
        ("2027-03-27T00:10:00", "2027-03-29T00:10:00", "2027-03-27", "2027-03-29"),
    ],
)
def test_days_are_counted_in_dates_over_a_change_of_summer_time(phone: str, true: str, on: str, right: str) -> None:
    assert put_right(phone, true, on)["on"] == right


def test_a_phone_in_another_time_zone_is_not_off() -> None:
    """The wire carries instants: a phone set to Lisbon shows another hour and sends the same number."""
    assert put_right("2026-11-25T06:00:00", "2026-11-25T06:00:00", "2026-11-25") == {}


def test_a_stamp_from_the_future_is_stamped_anew_and_order_is_kept(ada: Phone) -> None:
    ada.fast_ms = YEAR
    doe = new_id()
    events = [ada.record("doe", doe, {"name": "Ivy"}), *(ada.event("udder", doe, FILL) for _ in range(3))]
    answers = record(ada, *events)
    stamps = [one["eff"]["hlc"] for one in answers]
    assert stamps == sorted(stamps)
    assert len(set(stamps)) == 4
    assert all(int(stamp[:12], 16) <= now_ms() + TRUSTED_MS for stamp in stamps)
    assert {stamp[18:] for stamp in stamps} == {ada.device[:8]}
    later = record(ada, ada.event("udder", doe, FILL))[0]
    assert later["eff"]["hlc"] > stamps[-1]


def test_one_phone_in_the_future_does_not_win_for_ever(ada: Phone, ben: Phone) -> None:
    ada.fast_ms = YEAR
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Wrong"}))
    seen = Event.objects.get(seq=1).hlc
    fix = ben.record("doe", doe, {"name": "Right"}, name=seen)
    fix["hlc"] = f"{int(seen[:12], 16) + 1:012x}-0000-{ben.device[:8]}"
    record(ben, fix)
    assert Event.objects.get(seq=2).hlc > seen


def test_a_stamp_a_little_ahead_is_kept_and_the_farms_clock_follows(ada: Phone) -> None:
    ada.fast_ms = TRUSTED_MS - 60_000
    answer = record(ada, ada.record("doe", new_id(), {"name": "Ivy"}))[0]
    assert answer["eff"] is None
    assert Farm.objects.get(pk=ada.farm.pk).clock[:17] == Event.objects.get(seq=1).hlc[:17]


def test_a_repeat_after_the_clock_was_mended_gives_the_first_answer(ada: Phone) -> None:
    ada.fast_ms = YEAR
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    first = record(ada, event)[0]
    ada.fast_ms = 0
    again = record(ada, event)[0]
    assert (again["st"], again["seq"], again["eff"]) == ("dup", first["seq"], first["eff"])


def test_the_farms_clock_never_repeats_and_never_goes_back() -> None:
    clock = FarmClock.at("00000000000a-fffe-00000000")
    stamps = [clock.tick(5, "aaaaaaaa") for _ in range(4)] + [clock.tick(20, "aaaaaaaa")]
    assert stamps == sorted(set(stamps))
    assert stamps[-1].startswith("000000000014")


@pytest.mark.parametrize("happened", [0, 253_402_300_799_000])
def test_the_ends_of_time_do_not_break_anything(happened: int) -> None:
    event = {"happened": happened, "entered": happened, "on": "9999-12-31", "hlc": "ffffffffffff-ffff-aaaaaaaa"}
    for offset in (-100 * YEAR, 100 * YEAR):
        eff = Correction(now_ms(), offset, ZONE, FarmClock(0, 0)).effective(event)
        counts = {**event, **eff}
        assert 0 <= counts["happened"] <= 253_402_300_799_000
        datetime.fromtimestamp(counts["happened"] / 1000, UTC) - timedelta(days=0)


def offered(ahead_ms: int, before: dict[str, Any] | None, now: int = 1_800_000_000_000) -> dict[str, object]:
    event = {
        "id": "e",
        "happened": now,
        "entered": now,
        "on": "2027-01-15",
        "hlc": f"{now + ahead_ms:012x}-0000-aaaaaaaa",
    }
    return Correction(now, 0, ZONE, FarmClock(now, 7)).effective(event, before)


def test_an_entry_offered_again_keeps_the_stamp_it_was_given() -> None:
    given = {"hlc": "01a213eccb00-0001-aaaaaaaa", "on": "2026-11-25"}
    assert offered(YEAR, given) == given


def test_an_entry_once_believed_is_believed_again_though_the_phone_is_wrong_now() -> None:
    assert offered(0, {}) == {}


@pytest.mark.parametrize("before", [None, {}, {"hlc": "ffffffffffff-0001-aaaaaaaa"}])
def test_a_stamp_from_the_future_is_given_anew_whatever_was_given(before: dict[str, Any] | None) -> None:
    assert offered(YEAR, before) == {"hlc": f"{1_800_000_000_001:012x}-8000-aaaaaaaa"}


NOW = 1_800_000_000_000
DAY = 24 * HOUR


@pytest.mark.parametrize(
    ("entered", "stamp", "off_now", "eff"),
    [
        pytest.param(NOW + 5 * YEAR, NOW + 5 * YEAR, 0, {"odd": 1}, id="2032, put right before sending"),
        pytest.param(
            NOW + 5 * YEAR, NOW + 5 * YEAR, 5 * YEAR, {"happened": NOW, "on": "2027-01-15"}, id="2032, as it is"
        ),
        pytest.param(0, NOW - DAY, 0, {"odd": 1}, id="1970, put right before sending, after it had heard of the farm"),
        pytest.param(0, NOW - DAY, -NOW, {"happened": NOW, "on": "2027-01-15"}, id="1970, as it is"),
        pytest.param(NOW - 20 * DAY, NOW - 20 * DAY, 0, {}, id="three weeks without a signal"),
        pytest.param(NOW - 20 * DAY, NOW - 20 * DAY, 5 * YEAR, {}, id="right when entered, wrong since"),
        pytest.param(NOW - 20 * DAY, NOW - 20 * DAY, -NOW, {}, id="right when entered, 1970 since"),
        pytest.param(NOW + 5 * YEAR, NOW + 5 * YEAR, -NOW, {"odd": 1}, id="2032 when entered, 1970 since"),
        pytest.param(NOW - 40 * DAY, NOW - DAY, 0, {"odd": 1}, id="five weeks behind what it had heard"),
        pytest.param(NOW - 2 * HOUR, NOW + 5 * YEAR, 0, {}, id="right again, with a stamp from when it was wrong"),
        pytest.param(NOW + 20 * HOUR, NOW + 20 * HOUR, 0, {}, id="less than a day ahead"),
    ],
)
def test_a_clock_that_was_put_right_in_between_is_asked_about(
    entered: int, stamp: int, off_now: int, eff: dict[str, Any]
) -> None:
    on = datetime.fromtimestamp(entered / 1000, ZoneInfo(ZONE)).date().isoformat()
    event = {"id": "e", "happened": entered, "entered": entered, "on": on, "hlc": f"{stamp:012x}-0000-aaaaaaaa"}
    found = Correction(NOW, -off_now, ZONE, FarmClock(NOW - DAY, 0)).effective(event)
    found.pop("hlc", None)
    assert found == eff


def written(
    ada: Phone, doe: str, entered: int, kind: str = "udder", data: dict[str, Any] | None = None
) -> dict[str, Any]:
    """As a phone writes it whose clock says this, and is put right before it sends."""
    event = ada.event(kind, doe, FILL if data is None else data)
    on = datetime.fromtimestamp(entered / 1000, ZoneInfo(ZONE)).date().isoformat()
    return {**event, "happened": entered, "entered": entered, "on": on}


def bootstrapped(farm: Farm) -> dict[str, Any]:
    return fold([replay(canonical(one["ev"]), canonical(one["eff"]) if one["eff"] else "") for one in sent(farm)])


def sent(farm: Farm) -> list[dict[str, Any]]:
    page = msgspec.json.decode(msgspec.json.encode(bootstrap(farm.pk)))
    return list(page["events"])


@pytest.mark.parametrize("entered", [0, 1_956_000_000_000], ids=["1970", "2032"])
def test_an_entry_nobody_knows_the_day_of_is_on_every_phone_and_on_no_day_until_somebody_says_it(
    ada: Phone, entered: int
) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    odd = written(ada, doe, entered)
    answer = record(ada, odd)[0]
    assert (answer["st"], answer["eff"]["odd"]) == ("ok", 1)
    view = bootstrapped(ada.farm)
    assert (view["does"][doe]["udder"], [one["ev"] for one in view["undated"]]) == ([], [odd["id"]])
    today = datetime.now(ZoneInfo(ZONE)).date().isoformat()
    said = {"of": odd["id"], "data": FILL, "on": today, "happened": now_ms()}
    record(ada, ada.event("correct", doe, said))
    view = bootstrapped(ada.farm)
    assert view["undated"] == []
    assert [(on, fill) for on, fill, *_ in view["does"][doe]["udder"]] == [(today, 2)]
    assert msgspec.json.decode(Event.objects.get(id=odd["id"]).raw)["happened"] == entered


def test_the_hold_of_an_undated_treatment_stands(ada: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    given = {"product": "Yarrow drench", "told": "", "why": "", "who": "vet", "milk_until": "2026-12-20"}
    odd = written(ada, doe, 0, "treatment", {**given, "meat_until": "", "carries": []})
    record(ada, odd)
    view = bootstrapped(ada.farm)
    assert [one["milk_until"] for one in view["does"][doe]["treatments"]] == ["2026-12-20"]
    assert [one["ev"] for one in view["undated"]] == [odd["id"]]


def test_what_goes_by_its_stamp_is_not_held_up_by_a_wrong_day(ada: Phone) -> None:
    doe = new_id()
    named = ada.record("doe", doe, {"name": "Ivy"})
    assert record(ada, {**named, "entered": 0, "happened": 0, "on": "1970-01-01"})[0]["eff"] == {"odd": 1}
    view = bootstrapped(ada.farm)
    assert (view["does"][doe]["f"]["name"], view["undated"]) == ("Ivy", [])


NOON = at("2026-11-25T12:00:00")
# The same as in frontend/tests/core/odd_clock.test.ts.
TO_COME = [
    ("score", 6 * 365 * DAY, "2026-11-25", True),
    ("score", 0, "2099-01-01", True),
    ("score", 0, "2026-11-27", True),
    ("score", DAY + 1, "2026-11-25", True),
    ("score", DAY, "2026-11-26", False),
    ("moved", 0, "2026-11-26", False),
    ("kidded", 0, "2027-02-01", True),
    ("treatment", 0, "2027-02-01", True),
    ("score", -40 * DAY, "2026-10-01", False),
    ("ration", 0, "2027-02-01", False),
    ("freeze", 0, "2027-02-01", False),
    ("doe", 400 * DAY, "2028-02-01", False),
    ("strange", 400 * DAY, "2028-02-01", False),
]


@pytest.mark.parametrize(("kind", "ahead_ms", "on", "odd"), TO_COME)
def test_what_is_about_a_time_to_come_is_asked_about(kind: str, ahead_ms: int, on: str, odd: bool) -> None:
    event = {"kind": kind, "v": 1, "entered": NOON, "hlc": f"{NOON:012x}-0000-aaaaaaaa"}
    right = Correction(NOON, 0, ZONE, FarmClock(0, 0))
    assert right.effective({**event, "happened": NOON + ahead_ms, "on": on}) == ({"odd": 1} if odd else {})


def test_of_a_phone_that_is_a_year_ahead_what_counts_is_looked_at_put_right() -> None:
    event = {"kind": "score", "v": 1, "entered": NOON + YEAR, "hlc": f"{NOON:012x}-0000-aaaaaaaa", "on": "2027-11-25"}
    right = Correction(NOON, -YEAR, ZONE, FarmClock(0, 0))
    assert right.effective({**event, "happened": NOON + YEAR}) == {"happened": NOON, "on": "2026-11-25"}
    assert right.effective({**event, "happened": NOON + 3 * YEAR, "on": "2029-11-25"}) == {"odd": 1}


def test_just_before_midnight_a_phone_a_little_ahead_may_date_a_move_tomorrow() -> None:
    late = at("2026-11-25T23:55:00")
    event = {"kind": "moved", "v": 1, "entered": late, "happened": late, "hlc": f"{late:012x}-0000-aaaaaaaa"}
    assert Correction(late, 0, ZONE, FarmClock(0, 0)).effective({**event, "on": "2026-11-27"}) == {}


def test_a_score_of_years_to_come_is_in_nobodys_list_until_somebody_says_when_it_was(ada: Phone) -> None:
    doe = new_id()
    ahead = {**ada.event("score", doe, {"x100": 300}), "on": "2099-01-01"}
    answers = record(ada, ada.record("doe", doe, {"name": "Ivy"}), ahead)
    assert (answers[1]["st"], answers[1]["eff"]) == ("ok", {"odd": 1})
    view = fold([replay(*row) for row in Event.objects.order_by("seq").values_list("raw", "eff")])
    assert (view["does"][doe]["scores"], [one["ev"] for one in view["undated"]]) == ([], [ahead["id"]])
