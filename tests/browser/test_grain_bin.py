"""A doe at the grain bin, a bag without a class, a new doe in milk: asked on a real screen, and kept."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
DOE = "Clover"


def added(barn: Barn, before: int, kind: str) -> list[dict[str, Any]]:
    return [event["data"] for event in barn.log()[before:] if event["kind"] == kind]


def test_she_got_into_the_grain_and_nobody_knows_how_much(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    phone.ate_sheet(DOE)
    phone.link(say("rec.got_into")).click()
    phone.button(say("save")).click()
    phone.at(DOE)
    expect(phone.page.get_by_text(say("p.grain_overload_vet.unknown", name=DOE)).first).to_be_visible()
    expect(phone.link(say("emergency.open.bloat"))).to_be_visible()
    until(lambda: bool(added(barn, before, "freeze")), "it is sent with the hold")
    assert added(barn, before, "got_into") == [{"g": None, "feed": ""}]
    assert added(barn, before, "freeze")[0]["grain_out"] is True
    phone.button(say("too_much.called")).click()
    expect(phone.page.get_by_text(like("p.grain_jump_back.unknown", name=DOE)).first).to_be_visible()
    until(lambda: bool(added(barn, before, "triage")), "the call is sent")
    assert added(barn, before, "triage")[0]["result"] == "vet_called"
    phone.chores()
    row = phone.page.get_by_role("navigation", name=say("off.again.title")).get_by_role("link").filter(has_text=DOE)
    expect(row).to_contain_text(like("p.grain_jump_back.unknown", name=DOE))
    expect(row).to_contain_text(like("off.again"))


def test_a_new_feed_is_asked_first_what_it_is_and_takes_what_is_usual_for_it(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    phone.open("farm", "feeds", "new")
    expect(phone.page.get_by_label(say("f.name"), exact=True)).to_have_count(0)
    phone.button(say("class.grain")).click()
    phone.page.get_by_label(say("f.name"), exact=True).fill("Green bag")
    expect(phone.page.get_by_label(say("f.like"), exact=True)).to_have_value("Barley grain, whole")
    phone.button(say("save")).click()
    phone.saved()
    until(lambda: bool(added(barn, before, "feed")), "it is sent")
    said = added(barn, before, "feed")[0]["f"]
    assert (said["class"], said["like"]) == ("grain", "barley_grain")


def test_a_new_doe_in_milk_is_asked_when_she_kidded(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    phone.open("farm", "doe", "new")
    phone.page.get_by_label(say("f.name"), exact=True).fill("Damson")
    phone.page.get_by_label(say("o.milking.milk"), exact=True).check()
    phone.button(say("save")).click()
    expect(phone.page.get_by_role("alert").first).to_be_visible()
    expect(phone.page.get_by_label(say("f.name"), exact=True)).to_have_value("Damson")
    phone.page.get_by_label(re.compile(f"^{re.escape(say('f.kidded_on'))}")).fill("2026-01-10")
    phone.page.get_by_role("group", name=say("f.born")).get_by_label("2", exact=True).check()
    phone.button(say("save")).click()
    phone.saved()
    until(lambda: bool(added(barn, before, "kidded")), "it is sent")
    assert added(barn, before, "kidded") == [{"born": 2, "alive": 2, "timed": False}]
