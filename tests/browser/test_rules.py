"""How we do it here: the everyday rules, what a change would do before it is saved, and the way back to ours."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser


def everyday(phone: Screen) -> Screen:
    phone.open("farm", "rules")
    expect(phone.heading(say("farm.rules"))).to_be_visible()
    return phone


def box(phone: Screen, rule: str) -> Locator:
    return phone.page.locator(f"#f-{rule}")


def told(phone: Screen) -> Locator:
    said = phone.page.locator(".what-if")
    expect(said).to_have_attribute("aria-busy", "false")
    return said


def test_eight_rules_come_first_each_with_the_value_in_force(phone: Screen) -> None:
    boxes = everyday(phone).page.locator(".rule input")
    expect(boxes).to_have_count(8)
    assert [box.input_value() for box in boxes.all()] == ["100", "3", "7", "15", "120", "8", "90", "150"]
    expect(phone.button(say("save"))).to_have_count(0)


def test_a_change_says_whose_word_would_be_another_without_a_signal(phone: Screen, barn: Barn) -> None:
    everyday(phone).controlled()
    barn.server.freeze()
    label = say("f.level_pm")
    phone.button(say("rules.greater", label=label)).click()
    expect(box(phone, "level_pm")).to_have_value("9")
    expect(told(phone)).to_contain_text(say("if.nobody"))
    box(phone, "level_pm").fill("30")
    level = like("if.line", nutrient=say("nutrient.me").lower(), was=say("level.over"), now=say("level.level"))
    expect(told(phone)).to_contain_text(re.compile("Clover: .*" + level.pattern))
    phone.button(say("rules.reset", standard="8 %")).click()
    expect(phone.page.locator(".what-if")).to_have_count(0)
    barn.server.thaw()


def test_what_was_begun_is_kept_and_what_cannot_be_is_not_saved(phone: Screen) -> None:
    phone.button(say("rules.less", label=everyday(phone) and say("f.waste_pm"))).click()
    expect(box(phone, "waste_pm")).to_have_value("10")
    phone.page.reload()
    expect(box(phone, "waste_pm")).to_have_value("10")
    box(phone, "waste_pm").fill("90")
    expect(phone.page.get_by_role("alert").filter(has_text=say("rules.limits", low="0", high="60 %"))).to_be_visible()
    box(phone, "waste_pm").fill("10")
    expect(phone.button(say("save"))).to_be_enabled()


def test_its_own_value_is_sent_and_ours_comes_back(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    everyday(phone).button(say("rules.greater", label=say("f.step_days"))).click()
    phone.button(say("save")).click()
    phone.saved()
    expect(phone.page.get_by_text(say("rules.own", standard="3 days"))).to_be_visible()
    phone.button(say("rules.reset", standard="3 days")).click()
    phone.button(say("save")).click()
    phone.send_now()
    phone.all_sent()
    sent = [event["data"]["f"] for event in barn.log()[before:] if event["kind"] == "rules"]
    assert sent == [{"step_days": 4}, {"step_days": 3}]
