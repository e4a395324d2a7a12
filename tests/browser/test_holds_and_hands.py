"""What everybody must know of a doe: her holds, what is in her twice, and what a hand has to feel."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser


def test_a_hold_is_seen_on_everybodys_phone(phone: Screen, barn: Barn, another: Callable[[str, str], Screen]) -> None:
    until = date.fromisoformat(barn.log()[-1]["on"]) + timedelta(days=30)
    phone.form("Juniper", "treatment")
    page = phone.page
    page.get_by_label(say("f.given"), exact=True).fill("What the vet brought")
    page.get_by_label(say("o.who.vet"), exact=True).check()
    page.get_by_label(say("f.milk_until"), exact=True).fill(until.isoformat())
    phone.button(say("treat.save")).click()
    phone.at("Juniper")
    phone.send_now()
    phone.all_sent()

    helper = another("Mirrin", "")
    held = re.compile(f"{re.escape(say('hold.milk', on='').split(',')[0].strip())} \\w+ {until.day}\\b")
    helper.chores()
    expect(helper.row("Juniper")).to_contain_text(like("hold.milk.brief"))
    helper.doe("Juniper")
    expect(helper.page.get_by_text(held)).to_be_visible()
    helper.form("Juniper", "milk")
    expect(helper.page.get_by_text(held)).to_be_visible()
    helper.open("farm", "treatments")
    expect(helper.page.get_by_text(held).first).to_be_visible()

    phone.open("farm", "treatments")
    taken = page.get_by_role("listitem").filter(has_text="What the vet brought")
    taken.locator("summary").click()
    taken.get_by_role("button", name=say("last.end_hold")).click()
    expect(taken).to_contain_text(say("last.taken"))
    phone.doe("Juniper")
    expect(page.get_by_text(held)).to_have_count(0)
    phone.link(say("doe.last")).click()
    expect(page.locator("li.record", has_text="What the vet brought").first).to_contain_text(like("last.taken_by"))


def test_a_second_source_of_selenium_is_asked_about_with_all_of_them(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    phone.form("Teasel", "treatment")
    phone.page.get_by_label(say("f.given"), exact=True).fill("A bolus")
    phone.page.get_by_label(say("o.who.label"), exact=True).check()
    phone.page.get_by_label(say("f.selenium"), exact=True).check()
    phone.button(say("treat.save")).click()
    told = phone.page.get_by_role("alert")
    expect(told).to_contain_text(like("carries.given", product="Trace mineral shot by the vet"))
    expect(told).to_contain_text(like("carries.feed", feed="Loose mineral, blue bag"))
    assert barn.added(before, "treatment") == []
    phone.button(say("carries.save")).click()
    phone.at("Teasel")
    expect(phone.page.get_by_text(say("carries.twice", mineral="selenium")).first).to_be_visible()


def test_the_last_days_to_slim_her_ask_for_a_score(phone: Screen) -> None:
    """Juniper is at day 75; without her last score nobody has felt her for a month."""
    phone.doe("Juniper")
    expect(phone.page.get_by_text(like("slim.ask"))).to_have_count(0)
    phone.link(say("doe.last")).click()
    row = phone.page.locator("li.record", has_text=say("r.score", x100="3.0")).first
    row.locator("summary").click()
    row.get_by_role("button", name=say("last.take_back")).click()
    phone.page.go_back()
    expect(phone.page.get_by_text(say("slim.ask", n=75))).to_be_visible()
    phone.chores()
    expect(phone.row("Juniper")).to_contain_text(say("slim.row", n=75))
    phone.score("Juniper", 3)
    expect(phone.page.get_by_text(like("slim.ask"))).to_have_count(0)


def test_between_two_pictures_gives_a_quarter(phone: Screen) -> None:
    phone.form("Wren", "score")
    expect(phone.page.get_by_text(like("score.last"))).to_contain_text("Odette")
    expect(phone.page.get_by_text(like("score.band"))).to_be_visible()
    loin = phone.page.get_by_role("group", name=say("score.loin"), exact=True)
    brisket = phone.page.get_by_role("group", name=say("score.brisket"), exact=True)
    loin.get_by_role("button", name=re.compile("^3")).click()
    expect(phone.page.get_by_text(say("score.now_brisket"))).to_be_visible()
    brisket.get_by_role("button", name=re.compile("^3")).click()
    brisket.get_by_role("button", name=re.compile("^2")).click()
    phone.button(say("score.save", x100="2.75")).click()
    phone.at("Wren")
    expect(phone.page.get_by_text(re.compile(r"^2\.75, .* by you$")).first).to_be_visible()


def test_an_uneven_udder_is_said_until_both_halves_are_felt(phone: Screen) -> None:
    phone.form("Yarrow", "udder")
    phone.page.get_by_label(say("udder.uneven")).check()
    phone.button(re.compile(f"^{re.escape(say('udder.fill.2'))}")).click()
    phone.at("Yarrow")
    expect(phone.page.get_by_text(like("uneven.said"))).to_be_visible()
    phone.chores()
    expect(phone.row("Yarrow")).to_contain_text(say("uneven.row"))
    phone.doe("Yarrow").button(say("uneven.fine")).click()
    expect(phone.page.get_by_text(like("uneven.said"))).to_have_count(0)
    expect(phone.page.get_by_text(say("vet.seen.udder.fine")).first).to_be_visible()
