"""Notices: who is told what, once, by what way, and never more than that."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.conf import settings

from herd.models import Farm, Membership, Notice, NoticeChoice, PushSubscription, Sending
from herd.services.members import remove
from herd.services.telling import outbox
from herd.services.telling.choices import choose, try_one
from herd.services.telling.clocks import clocks_of
from herd.services.telling.kinds import KINDS
from herd.services.telling.plan import after_quiet, plan
from herd.services.telling.vapid import public_key
from herd.services.work import work_off
from tests.logs import record
from tests.people import ZONE, People, make_people
from tests.phones import new_id, now_ms
from tests.services.told import HOUR_MS, LOUD, MIN_MS, Told, at_hour, doe
from tests.support.push_phone import Browser, Maker, claims


@pytest.fixture
def people(db: None, quick_hashes: None, settings: Any) -> People:
    settings.PUSH_TO_OURSELVES = True
    return make_people()


@pytest.fixture
def maker() -> Iterator[Maker]:
    made = Maker()
    yield made
    made.close()


@pytest.fixture
def ada(people: People, maker: Maker) -> Told:
    return Told(people, maker, "ada")


@pytest.fixture
def ben(people: People, maker: Maker) -> Told:
    return Told(people, maker, "ben")


def ate(told: Told, doe_id: str, how: str, **more: Any) -> None:
    said = {"how": how, "left_pct": 0, "feed": "", "fed": "", **more}
    [answer] = record(told.phone, told.phone.event("intake", doe_id, said, slot="morning"))
    assert answer["st"] == "ok", answer


def refused(told: Told, doe_id: str) -> None:
    ate(told, doe_id, "not_up")


def test_new_trouble_is_told_the_others_at_once_and_not_who_wrote_it(ada: Told, ben: Told) -> None:
    ivy = doe(ada)
    refused(ada, ivy)
    outbox.step()
    [said] = ben.heard()
    assert said["title"] == "Ivy"
    assert said["body"] == "Off her feed: call the vet."
    assert said["url"] == f"/#/at/{ada.farm.pk}/doe/{ivy}"
    assert said["urgent"] is True
    assert set(said) == {"title", "body", "tag", "url", "urgent", "n"}
    assert ada.heard() == []
    outbox.step()
    assert len(ben.heard()) == 1


def test_the_letter_is_closed_for_that_browser_and_signed_for_its_maker(ada: Told, ben: Told, maker: Maker) -> None:
    refused(ada, doe(ada))
    outbox.step()
    [got] = maker.got
    claimed, key = claims(got.headers["authorization"])
    assert claimed["aud"] == maker.url
    assert time.time() < claimed["exp"] < time.time() + 24 * 3600
    assert claimed["sub"].startswith(("mailto:", "https://"))
    assert key == public_key(settings.VAPID_KEY_FILE)
    assert got.headers["content-encoding"] == "aes128gcm"
    assert got.headers["urgency"] == "high"
    assert got.headers["topic"] == ben.heard()[0]["tag"]
    assert b"Ivy" not in got.body
    assert len(got.body) < 400
    with pytest.raises(Exception):  # noqa: B017
        Browser().opens(got.body)


def test_a_clock_is_told_when_it_falls_due_and_not_before(ada: Told) -> None:
    ivy, at = doe(ada), now_ms()
    ate(ada, ivy, "refused")
    due = recheck_ms(ada)
    assert due > at
    assert not Notice.objects.exists()
    outbox.step(due - 1)
    assert ada.heard() == []
    outbox.step(due)
    assert [one["body"] for one in ada.heard()] == ["Off her feed: look at her again now."]


def recheck_ms(told: Told) -> int:
    found = clocks_of(Farm.objects.get(pk=told.farm.pk), now_ms())
    return next(one.at_ms for one in found if one.code == "off_feed_look")


def test_labour_is_told_at_once_and_again_when_its_half_hour_is_up(ada: Told, ben: Told) -> None:
    ivy = doe(ada)
    record(ada.phone, ada.phone.event("bred", ivy, bred()))
    record(ada.phone, ada.phone.event("signs", ivy, {"seen": ["straining"], "absent": []}))
    outbox.step()
    assert [one["body"] for one in ben.heard()] == ["She is in labour: the clock runs."]
    outbox.step(now_ms() + 31 * MIN_MS)
    assert ben.heard()[-1]["body"] == ada.heard()[-1]["body"] == "Call the vet for her labour now."


def bred() -> dict[str, Any]:
    on = datetime.fromtimestamp(now_ms() / 1000 - 150 * 86400, UTC).date().isoformat()
    return {"from_on": on, "to_on": on, "how": "hand", "buck": "", "again": False}


def test_a_look_that_was_made_in_time_is_told_to_nobody(ada: Told) -> None:
    ivy = doe(ada)
    ate(ada, ivy, "refused")
    due = recheck_ms(ada)
    ate(ada, ivy, "ate_all")
    outbox.step(due)
    assert ada.heard() == []


def test_in_quiet_hours_what_cannot_wait_comes_at_once(ada: Told, ben: Told) -> None:
    here = datetime.now(ZoneInfo(ZONE))
    first = (here.hour * 60 + here.minute - 5) % 1440
    quiet = {"quiet_from_min": first, "quiet_to_min": (first + 120) % 1440}
    choose(ben.farm, ben.person, {"kinds": list(KINDS), **LOUD, **quiet})
    refused(ada, doe(ada))
    outbox.step()
    assert [one["body"] for one in ben.heard()] == ["Off her feed: call the vet."]


def test_in_quiet_hours_all_else_waits_for_their_end(ada: Told) -> None:
    tomorrow = datetime.now(ZoneInfo(ZONE)).date() + timedelta(days=1)
    quiet = {"quiet_from_min": 6 * 60, "quiet_to_min": 9 * 60}
    choose(ada.farm, ada.person, {"kinds": ["task"], **LOUD, **quiet})
    said = {"title": "Clean the water tubs", "anchor": "date", "from_d": 0, "to_d": 0, "date": tomorrow.isoformat()}
    record(ada.phone, ada.phone.record("own_task", new_id(), {**said, "every_d": 0, "gone": False}))
    outbox.step(at_hour(tomorrow, 7) - 1)
    assert not Notice.objects.exists()
    outbox.step(at_hour(tomorrow, 7))
    assert Notice.objects.count() == 1
    assert ada.heard() == []
    outbox.step(at_hour(tomorrow, 9))
    [said] = ada.heard()
    assert (said["title"], said["body"]) == ("Clean the water tubs", "Due today.")
    assert said["url"] == f"/#/at/{ada.farm.pk}/year"


def test_quiet_hours_go_by_the_farms_own_clock() -> None:
    choice = NoticeChoice(quiet_from_min=22 * 60, quiet_to_min=6 * 60)

    def at(text: str) -> int:
        return int(datetime.fromisoformat(text).replace(tzinfo=ZoneInfo(ZONE)).timestamp() * 1000)

    assert after_quiet(choice, ZONE, at("2026-11-30T23:10")) == at("2026-12-01T06:00")
    assert after_quiet(choice, ZONE, at("2026-11-30T03:10")) == at("2026-11-30T06:00")
    assert after_quiet(choice, ZONE, at("2026-11-30T12:00")) == at("2026-11-30T12:00")
    assert after_quiet(choice, ZONE, at("2026-11-30T06:00")) == at("2026-11-30T06:00")
    never = NoticeChoice(quiet_from_min=0, quiet_to_min=0)
    assert after_quiet(never, ZONE, at("2026-11-30T23:10")) == at("2026-11-30T23:10")
    # The night the clocks go back is an hour longer.
    assert after_quiet(choice, ZONE, at("2026-10-24T23:00")) == at("2026-10-25T06:00")


def test_who_was_removed_hears_nothing(people: People, ada: Told, ben: Told) -> None:
    refused(ada, doe(ada))
    plan(ada.farm.pk)
    assert Sending.objects.filter(notice__person=people.ben).count() == 1
    remove(people.farm, people.ben.pk, people.ada)
    outbox.step()
    assert ben.heard() == []
    assert not NoticeChoice.objects.filter(person=people.ben).exists()
    refused(ada, doe(ada, "Elm"))
    outbox.step()
    assert ben.heard() == []


def test_whose_last_day_is_over_hears_nothing(people: People, ada: Told, ben: Told) -> None:
    refused(ada, doe(ada))
    plan(ada.farm.pk)
    Membership.objects.filter(person=people.ben).update(ends_on="2020-01-01")
    outbox.step()
    assert ben.heard() == []


def test_signed_out_is_told_no_more(ada: Told, ben: Told) -> None:
    ben.phone.ask("DELETE", "/api/session")
    assert not PushSubscription.objects.filter(seat__person=ben.person).exists()
    refused(ada, doe(ada))
    outbox.step()
    assert ben.heard() == []


@pytest.mark.parametrize("status", [404, 410])
def test_a_browser_that_is_gone_is_forgotten(ada: Told, ben: Told, maker: Maker, status: int) -> None:
    maker.answers["/ben"] = status
    refused(ada, doe(ada))
    outbox.step()
    assert not PushSubscription.objects.filter(seat__person=ben.person).exists()
    assert Notice.objects.filter(person=ben.person).count() == 1


@pytest.mark.parametrize("status", [429, 500, 503])
def test_a_maker_that_cannot_is_asked_later_and_less_and_less(ada: Told, ben: Told, maker: Maker, status: int) -> None:
    maker.answers["/ben"] = status
    refused(ada, doe(ada))
    now = now_ms()
    outbox.step(now)
    outbox.step(now + 1000)
    assert len(maker.got) == 1
    outbox.step(now + 60_000)
    assert len(maker.got) == 2
    first, second = PushSubscription.objects.get(seat__person=ben.person).wait_until_ms - now, 60_000
    assert first > second
    maker.answers.clear()
    outbox.step(now + 24 * HOUR_MS)
    assert PushSubscription.objects.get(seat__person=ben.person).fails == 0


def test_try_goes_the_whole_way_whatever_the_hour(ada: Told) -> None:
    choose(ada.farm, ada.person, {"kinds": [], **LOUD, "quiet_to_min": 1439, "language": "es"})
    try_one(ada.farm, ada.person)
    outbox.step()
    assert [one["body"] for one in ada.heard()] == ["Los avisos llegan a este teléfono."]


def test_only_what_was_asked_for(ada: Told, ben: Told) -> None:
    choose(ben.farm, ben.person, {"kinds": ["task"], **LOUD})
    refused(ada, doe(ada))
    outbox.step()
    assert ben.heard() == []


def test_a_farm_that_nobody_wants_to_hear_of_is_not_looked_at_again(people: People) -> None:
    work_off(people.farm.pk)
    outbox.step()
    assert Farm.objects.get(pk=people.farm.pk).tell_at_ms > now_ms() + 10**9


def test_a_look_near_kidding_that_nobody_made_is_told(ada: Told) -> None:
    ivy = doe(ada)
    record(ada.phone, ada.phone.event("bred", ivy, bred()))
    record(ada.phone, ada.phone.event("signs", ivy, {"seen": ["pawing"], "absent": []}))
    outbox.step(now_ms() + 59 * MIN_MS)
    assert ada.heard() == []
    outbox.step(now_ms() + 61 * MIN_MS)
    assert [one["body"] for one in ada.heard()] == ["Near kidding: time to look at her again."]


def test_kids_and_the_afterbirth_are_told_by_their_clocks(ada: Told) -> None:
    ivy = doe(ada)
    record(ada.phone, ada.phone.event("bred", ivy, bred()))
    record(ada.phone, ada.phone.event("signs", ivy, {"seen": ["kid_out"], "absent": []}))
    for hours in range(1, 5):
        outbox.step(now_ms() + hours * HOUR_MS + MIN_MS)
    said = {one["body"] for one in ada.heard()}
    assert "Look whether her afterbirth has passed." in said
    assert "A kid has not been seen to drink: look now." in said
