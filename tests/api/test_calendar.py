"""The farm's year in somebody's own calendar: whose link, how long it leads anywhere, a file every calendar reads."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

import pytest
from icalendar import Calendar

from herd.models import Audit, CalendarLink, OutlookRow
from herd.services.calendar_feed import feed
from herd.services.calendar_links import make_link
from herd.services.members import today_on
from herd.services.rebuild import rebuild
from herd.services.recompile import recompile
from tests.people import PASSWORD, People
from tests.phones import Phone, new_id
from tests.support.calendar_words import FILE, as_text
from tests.support.strict_calendar import NotSo, days_of, read

MOST_OCTETS = 75


def door(phone: Phone) -> str:
    return f"/api/farms/{phone.farm.id}/calendar"


def made(phone: Phone, language: str = "en") -> str:
    """The address, without the server it is at."""
    answer = phone.send(door(phone), {"language": language})
    assert answer.status_code == 201, answer.content
    return "/api/" + str(answer.json()["link"]).partition("/api/")[2]


def bred_doe(phone: Phone, name: str = "Ivy", ago: int = 60, **fields: Any) -> str:
    doe, on = new_id(), (today_on(phone.farm) - timedelta(days=ago)).isoformat()
    bred = {"from_on": on, "to_on": on, "how": "hand", "buck": ""}
    fields = {"name": name, "sex": "doe", "size": "standard", "kiddings_before": 2, **fields}
    answers = phone.push(phone.record("doe", doe, fields), phone.event("bred", doe, bred, on=on))
    assert [one["st"] for one in answers] == ["ok", "ok"], answers
    return doe


def events(text: bytes) -> dict[str, Any]:
    return {str(event["uid"]): event for event in Calendar.from_ical(text).walk("VEVENT")}


def days(text: bytes, summary: str) -> Iterator[tuple[date, date]]:
    for event in events(text).values():
        if event["summary"] == summary:
            yield event["dtstart"].dt, event["dtend"].dt


def test_a_link_is_made_read_and_taken_back(ada: Phone, people: People) -> None:
    bred_doe(ada)
    link = made(ada)
    nobody = Phone(people.farm, people.ada)
    answer = nobody.client.get(link)
    assert (answer.status_code, answer["Content-Type"]) == (200, "text/calendar; charset=utf-8")
    assert "Ivy: Scan, and count the kids" in [event["summary"] for event in events(answer.content).values()]
    assert ada.client.get(door(ada)).json()["made"]
    assert ada.ask("DELETE", door(ada)).status_code == 204
    assert (nobody.client.get(link).status_code, ada.client.get(door(ada)).json()["made"]) == (404, None)
    whats = list(Audit.objects.filter(what__startswith="calendar").order_by("id").values_list("what", flat=True))
    assert whats == ["calendar_link_made", "calendar_link_revoked"]


def test_a_new_link_ends_the_one_before(ada: Phone) -> None:
    first, second = made(ada), made(ada)
    assert (ada.client.get(first).status_code, ada.client.get(second).status_code) == (404, 200)


def test_no_secret_is_kept(ada: Phone) -> None:
    link = made(ada)
    secret = link.removeprefix("/api/calendar/").removesuffix(".ics")
    assert secret not in str(CalendarLink.objects.values().get())
    assert secret not in str(list(Audit.objects.values()))
    assert len(secret) >= 32


def test_it_ends_with_her_place_on_the_farm_and_is_not_back_with_it(ada: Phone, ben: Phone, people: People) -> None:
    link = made(ben)
    assert ben.client.get(link).status_code == 200
    member = f"/api/farms/{people.farm.id}/members/{people.ben.pk}"
    assert ada.ask("PATCH", member, {"role": "helper"}).status_code == 200
    assert ben.client.get(link).status_code == 404
    assert ada.ask("PATCH", member, {"role": "family"}).status_code == 200
    assert ada.ask("DELETE", member).status_code == 204
    assert (ben.client.get(link).status_code, CalendarLink.objects.exists()) == (404, False)


def test_who_is_taken_off_by_name_has_no_link_any_more(ada: Phone, ben: Phone, people: People) -> None:
    made(ben)
    asked = {"password": PASSWORD, "name": people.farm.name}
    assert ada.send(f"/api/farms/{people.farm.id}/people/{people.ben.pk}/erase", asked).status_code == 200
    assert not CalendarLink.objects.exists()


def test_who_guesses_is_held_up(ada: Phone) -> None:
    said = {ada.client.get(f"/api/calendar/{n:032}.ics").status_code for n in range(42)}
    assert said == {404, 429}


def test_who_asks_too_often_is_held_up(ada: Phone, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("api.calendar.feed", lambda farm, language: b"")
    link = made(ada)
    assert [ada.client.get(link).status_code for _ in range(61)] == [200] * 60 + [429]


def test_days_of_kidding_are_whole_days_and_end_the_day_after(ada: Phone, people: People) -> None:
    doe = bred_doe(ada, ago=100)
    recompile(people.farm.pk)
    text = feed(people.farm, "en")
    [(start, end)] = days(text, "Ivy may kid")
    [(mid, after)] = days(text, "Ivy: middle of her days")
    bred = today_on(people.farm) - timedelta(days=100)
    assert OutlookRow.objects.filter(doe=doe).exists()
    assert bred + timedelta(days=140) < start < mid < end < bred + timedelta(days=165)
    assert after - mid == timedelta(days=1)


def test_ids_stay_when_documents_are_made_anew_and_stamps_may_move(ada: Phone, people: People) -> None:
    bred_doe(ada)
    recompile(people.farm.pk)
    first = feed(people.farm, "en")
    OutlookRow.objects.all().delete()
    rebuild(people.farm.pk)
    recompile(people.farm.pk)
    assert events(first).keys() == events(feed(people.farm, "en")).keys()
    assert events(first).keys() == events(feed(people.farm, "es")).keys()


def stripped(text: bytes) -> dict[str, tuple[str, date, date]]:
    return {uid: (str(one["summary"]), one["dtstart"].dt, one["dtend"].dt) for uid, one in events(text).items()}


def test_ids_stay_through_every_change_of_her_dates(ada: Phone, people: People) -> None:
    """Her service is dated anew by weeks, a scan gives an age, the farm prints another day, and a day is moved."""
    doe, on = new_id(), today_on(people.farm) - timedelta(days=40)
    fields = {"name": "Ivy", "sex": "doe", "size": "standard", "kiddings_before": 2}
    service = {"from_on": on.isoformat(), "to_on": on.isoformat(), "how": "hand", "buck": "", "again": False}
    bred = ada.event("bred", doe, service, on=on.isoformat())
    ada.push(ada.record("doe", doe, fields), bred)
    recompile(people.farm.pk)
    first = stripped(feed(people.farm, "en"))
    late = {uid for uid, (_, start, _) in first.items() if start > today_on(people.farm) + timedelta(days=60)}
    assert len(late) > 8

    sooner = (on - timedelta(days=21)).isoformat()
    told = {**service, "from_on": sooner, "to_on": sooner}
    aged = {"result": "pregnant", "kids": 2, "how": "scan", "aged_d": 52}
    moved = {"task": "kit", "key": "", "what": "moved", "why": "", "to_on": (on + timedelta(days=125)).isoformat()}
    for change in (
        ada.event("correct", doe, {"of": bred["id"], "data": told}),
        ada.event("preg_check", doe, aged, v=2),
        ada.record("rules", people.farm.pk, {"preg_days_standard": 153}),
        ada.event("task", doe, {**moved, "key": (on + timedelta(days=129)).isoformat()}),
    ):
        [answer] = ada.push(change)
        assert answer["st"] == "ok", answer
        recompile(people.farm.pk)
        now = stripped(feed(people.farm, "en"))
        assert late <= now.keys(), change["kind"]
        assert {now[uid][0] for uid in late} == {first[uid][0] for uid in late}
    assert [(now[uid], first[uid][1]) for uid in late if now[uid][1] >= first[uid][1]] == []


def test_what_is_done_is_gone_and_what_is_moved_stands_on_its_day(ada: Phone, people: People) -> None:
    doe = bred_doe(ada, ago=60)
    bred = today_on(people.farm) - timedelta(days=60)
    said = {"key": bred.isoformat(), "to_on": "", "why": ""}
    ada.push(ada.event("task", doe, {"task": "scan", "what": "done", **said}))
    to = today_on(people.farm) + timedelta(days=9)
    moved = {"task": "slim_check", "what": "moved", **said, "to_on": to.isoformat()}
    ada.push(ada.event("task", doe, moved))
    text = feed(people.farm, "en")
    assert not list(days(text, "Ivy: Scan, and count the kids"))
    assert list(days(text, "Ivy: Score her: last chance to slim")) == [(to, to + timedelta(days=1))]


def test_own_tasks_stand_under_their_own_words(ada: Phone, people: People) -> None:
    title = "Drench, \N{OX} and hay;\nbarn roof, " + "ü" * 30
    fields = {"anchor": "date", "from_d": 0, "to_d": 0, "every_d": 365, "date": "2024-02-29", "gone": False}
    ada.push(ada.record("own_task", new_id(), {"title": title.replace("\n", " "), **fields}))
    found = feed(people.farm, "en", date(2027, 1, 10))
    assert list(days(found, title.replace("\n", " "))) == [(date(2027, 2, 28), date(2027, 3, 1))]
    leap = feed(people.farm, "en", date(2028, 1, 10))
    assert (date(2028, 2, 29), date(2028, 3, 1)) in list(days(leap, title.replace("\n", " ")))


def test_a_window_over_a_change_of_clocks_is_days_and_no_hours(ada: Phone, people: People) -> None:
    fields = {"title": "Pens", "anchor": "date", "from_d": -2, "to_d": 2, "every_d": 0, "date": "2027-03-28"}
    ada.push(ada.record("own_task", new_id(), {**fields, "gone": False}))
    people.farm.zone = "Europe/Vienna"
    [(start, end)] = days(feed(people.farm, "en", date(2027, 3, 20)), "Pens")
    assert (start, end) == (date(2027, 3, 26), date(2027, 3, 31))
    assert type(start) is date


def test_the_file_is_as_rfc_5545_wants_it(ada: Phone, people: People) -> None:
    """Our own reading of it, beside the package's: lines, stamps, ids."""
    bred_doe(ada, "Ñandú, la cabra del corral más lejano")
    recompile(people.farm.pk)
    text = feed(people.farm, "es")
    assert text.endswith(b"END:VCALENDAR\r\n")
    lines = text.split(b"\r\n")[:-1]
    assert all(b"\n" not in line and b"\r" not in line for line in lines)
    assert max(len(line) for line in lines) <= MOST_OCTETS
    # folded between octets of a letter, a line alone is no text
    assert all(line.decode() is not None for line in lines)
    calendar, strict = read(text)
    assert {one.one("UID"): days_of(one) for one in strict} == {
        uid: (one["dtstart"].dt, one["dtend"].dt) for uid, one in events(text).items()
    }
    assert calendar.one("METHOD") == "PUBLISH"
    whole = re.sub(rb"\r\n[ \t]", b"", text).decode()
    blocks = re.findall(r"BEGIN:VEVENT\r\n(.*?)END:VEVENT\r\n", whole, re.DOTALL)
    assert len(blocks) > 10
    for block in blocks:
        assert re.search(r"^DTSTAMP:\d{8}T\d{6}Z\r$", block, re.MULTILINE), block
        assert re.search(r"^DTSTART;VALUE=DATE:\d{8}\r$", block, re.MULTILINE), block
        assert re.search(r"^DTEND;VALUE=DATE:\d{8}\r$", block, re.MULTILINE), block
        assert len(re.findall(r"^UID:\S+\r$", block, re.MULTILINE)) == 1
    ids = re.findall(r"^UID:(\S+)\r$", whole, re.MULTILINE)
    assert len(ids) == len(set(ids))
    for name in ("PRODID", "VERSION"):
        assert len(re.findall(rf"^{name}:", whole, re.MULTILINE)) == 1


@pytest.mark.parametrize(
    ("there", "instead"),
    [
        (b"\r\n", b"\n"),
        (b"END:VEVENT\r\n", b""),
        (b"DTSTART;VALUE=DATE:2", b"DTSTART:2"),
        (b"VERSION:2.0\r\n", b""),
        (b"TRANSP:TRANSPARENT", b"TRANSP:OPEN"),
        (b"SUMMARY:", b"SUMMARY:a;"),
        (b"BEGIN:VEVENT\r\n", b"BEGIN:VEVENT\r\nUID:x\r\n"),
    ],
)
def test_and_the_second_reading_refuses_what_is_not(ada: Phone, people: People, there: bytes, instead: bytes) -> None:
    bred_doe(ada)
    text = feed(people.farm, "en")
    assert there in text
    with pytest.raises(NotSo):
        read(text.replace(there, instead, 1))


def test_nobodys_name_stands_in_it(ada: Phone, people: People) -> None:
    bred_doe(ada)
    text = feed(people.farm, "en").decode()
    assert not [name for name in ("Ada", "Ben", "Cleo") if name in text]


def test_a_farm_of_sixty_is_quick_enough_and_asked_in_few_steps(
    ada: Phone, people: People, django_assert_max_num_queries: Any
) -> None:
    for n in range(3):
        bred_doe(ada, f"Doe {n}")
    with django_assert_max_num_queries(6):
        feed(people.farm, "en")


def test_its_words_are_those_of_the_app() -> None:
    """Otherwise: python -m tests.support.calendar_words"""
    assert FILE.read_text(encoding="utf-8") == as_text()


def test_a_language_nobody_knows_is_english(people: People) -> None:
    assert make_link(people.farm, people.ada, "xx")[0].language == "en"
