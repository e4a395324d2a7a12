"""The year's tasks: done with one doe, a pen or all, moved, left out and taken back; and what other calendars read."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from icalendar import Calendar
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn, today
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(180)]


def year(phone: Screen) -> Screen:
    phone.open("year")
    expect(phone.heading(say("tasks"))).to_be_visible()
    return phone


def group(phone: Screen, task: str) -> Locator:
    """Its row, unfolded with the fold it lies in."""
    phone.page.locator("main > details").evaluate_all("(all) => all.forEach((at) => { at.open = true; })")
    row = phone.page.locator(
        ".tasks .list > li:not(.record)", has=phone.page.get_by_text(say(f"task.{task}"), exact=True)
    ).first
    row.evaluate("(at) => { at.querySelector('details').open = true; }")
    return row


def test_done_with_one_of_them_without_a_signal_and_taken_back(phone: Screen, barn: Barn) -> None:
    year(phone).controlled()
    barn.server.freeze()
    row = group(phone, "grain_up")
    boxes = row.get_by_role("checkbox")
    n = boxes.count()
    assert n > 2
    for box in boxes.all()[1:]:
        box.uncheck()
    row.get_by_role("button", name=say("tasks.done.n", n=1), exact=True).click()
    expect(phone.toast).to_contain_text(say("task.grain_up"))
    expect(boxes).to_have_count(n - 1)
    phone.button(say("undo")).click()
    expect(boxes).to_have_count(n)
    barn.server.thaw()


def test_all_at_once_is_one_act_with_one_undo(phone: Screen) -> None:
    year(phone)
    row = group(phone, "grain_up")
    n = row.get_by_role("checkbox").count()
    row.get_by_role("button", name=say("tasks.done.n", n=n), exact=True).click()
    late = phone.page.locator(".late").get_by_text(say("task.grain_up"), exact=True)
    expect(late).to_have_count(0)
    phone.button(say("undo")).click()
    expect(late).to_have_count(1)
    expect(group(phone, "grain_up").get_by_role("checkbox")).to_have_count(n)


def test_another_day_and_left_out_with_a_reason(phone: Screen) -> None:
    year(phone)
    row = group(phone, "kidding_pen")
    row.get_by_role("button", name=say("tasks.move"), exact=True).click()
    row.get_by_label(say("tasks.move.to")).fill("2020-01-01")
    row.get_by_role("button", name=say("tasks.moved.go"), exact=True).click()
    expect(row.get_by_role("alert")).to_have_text(say("tasks.move.wrong"))
    row.get_by_label(say("tasks.move.to")).fill((today() + timedelta(days=3)).isoformat())
    row.get_by_role("button", name=say("tasks.moved.go"), exact=True).click()
    expect(phone.toast).to_contain_text(say("task.kidding_pen"))
    row = group(phone, "kit")
    row.get_by_role("button", name=say("tasks.skip"), exact=True).click()
    row.get_by_role("button", name=say("tasks.skipped.go"), exact=True).last.click()
    expect(row.get_by_role("alert")).to_have_text(say("tasks.skip.wrong"))
    row.get_by_label(say("tasks.skip.why")).fill("Borrowed from next door")
    row.get_by_role("button", name=say("tasks.skipped.go"), exact=True).last.click()
    expect(phone.page.get_by_text("Borrowed from next door")).to_be_attached()
    phone.page.locator("main > details").last.evaluate("(at) => { at.open = true; }")
    phone.button(re.compile(f"^{re.escape(say('tasks.open'))}: {re.escape(say('task.kit'))}")).click()
    expect(phone.page.get_by_text("Borrowed from next door")).to_have_count(0)


def test_a_task_of_ones_own_comes_again_and_stands_in_the_calendar(phone: Screen) -> None:
    phone.open("year", "own", "new")
    phone.page.get_by_label(say("own.title")).fill("Order hay")
    on = today().replace(day=1)
    phone.page.get_by_label(say("own.date"), exact=True).fill(on.isoformat())
    phone.page.get_by_text(say("own.every.14"), exact=True).click()
    phone.button(say("save")).click()
    expect(phone.page.get_by_text("Order hay")).to_be_visible()
    phone.open("year", "calendar", f"{on:%Y-%m}")
    expect(phone.page.locator(".on").get_by_text("Order hay")).to_have_count(3)


def test_a_link_for_other_calendars_is_made_read_and_ended(phone: Screen) -> None:
    phone.open("year", "link")
    phone.button(say("cal.link.make")).click()
    link = phone.page.get_by_label(say("cal.link.address"))
    expect(link).to_be_visible()
    expect(phone.page.get_by_alt_text(say("cal.link.qr"))).to_be_visible()
    address = link.input_value()
    answer = phone.page.request.get(address)
    assert answer.status == 200
    assert len(Calendar.from_ical(answer.body()).walk("VEVENT")) > 20
    phone.page.get_by_text(say("cal.link.end"), exact=True).click()
    phone.button(say("cal.link.end.go")).click()
    expect(phone.page.get_by_text(say("cal.link.ended"))).to_be_visible()
    assert phone.page.request.get(address).status == 404


def test_what_has_to_be_finished_this_week_is_one_line_after_the_round(phone: Screen) -> None:
    phone.chores()
    line = phone.link(like("tasks.week"))
    expect(line).to_have_count(1)
    line.click()
    expect(phone.heading(say("tasks"))).to_be_visible()


@pytest.mark.parametrize("ago", [70, 128, 143])
def test_a_doe_written_down_late_is_late_with_nothing(newcomer: Screen, ago: int) -> None:
    """What her weeks before that day held is asked about once, in a fold, where it would still be done."""
    newcomer.open("farm", "doe", "new")
    newcomer.page.get_by_label(say("f.name"), exact=True).fill("Quince")
    newcomer.page.get_by_label(like("f.bred_on")).first.fill((today() - timedelta(days=ago)).isoformat())
    newcomer.button(say("save")).click()
    newcomer.saved()
    newcomer.all_sent()
    year(newcomer)
    expect(newcomer.page.get_by_text(like("tasks.rounds", n=4))).to_be_visible()
    expect(newcomer.page.locator(".late")).to_have_count(0)
    asked = newcomer.page.locator("main > details", has=newcomer.page.get_by_text(like("tasks.asked")))
    expect(asked).to_have_count(1 if ago == 143 else 0)
    if ago == 143:
        asked.locator("summary").first.click()
        kit = asked.locator(".list > li", has=newcomer.page.get_by_text(say("task.kit"), exact=True))
        kit.locator("summary").click()
        kit.get_by_role("button", name=say("tasks.done"), exact=True).click()
        expect(kit).to_have_count(0)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_month_and_the_year_are_one_sheet_each(phone: Screen, paper: str) -> None:
    phone.page.set_viewport_size({"width": 1440, "height": 900})
    for place in (("calendar", f"{today():%Y-%m}"), ("glance",)):
        phone.open("year", *place)
        expect(phone.page.locator("main .weeks, main .does")).to_be_visible()
        sheet = phone.page.pdf(format=paper, prefer_css_page_size=False, landscape=True)
        assert sheet.count(b"/MediaBox") == 1, place
