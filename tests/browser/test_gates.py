"""A ration is asked about before it is saved, on a real screen: steps taken, a reason given, a wish let in."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.places import subject
from tests.browser.screen import Screen, plan_of
from tests.support.words import like, say

pytestmark = pytest.mark.browser
FEED = "Barley grain, rolled"


def wanted(screen: Screen, doe: str, g: int, feed: str = FEED) -> Screen:
    """So much of a feed in the morning from today, as it is typed."""
    screen.open("ration", doe)
    screen.pick_feed(say("f.feed"), feed)
    for slot in ("morning", "midday", "evening", "late"):
        screen.page.get_by_label(say(f"slot.{slot}"), exact=True).set_checked(slot == "morning")
    screen.button(say("unit.g")).first.click()
    screen.page.get_by_label(re.compile(f"^{say('ration.amount')}")).first.fill(str(g))
    screen.button(say("ration.save")).click()
    return screen


def rations(barn: Barn, since: int, kind: str = "ration") -> list[dict[str, Any]]:
    return [event["data"] for event in barn.log()[since:] if event["kind"] == kind]


def test_a_jump_of_grain_is_named_at_save_and_its_safe_steps_are_taken(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    wanted(phone, subject(barn, "doe", "Clover"), 300)
    ask = phone.page.get_by_role("alert", name=say("gate.title"))
    expect(ask).to_contain_text(re.compile(like("gate.grain_jump").pattern + "|" + like("gate.grain_jump.new").pattern))
    expect(ask).to_be_focused()
    expect(phone.page.get_by_label(re.compile(f"^{say('ration.amount')}")).first).to_have_value("300")
    assert rations(barn, before) == []
    phone.button(say("gate.use")).click()
    phone.saved()
    until(lambda: len(rations(barn, before)) == 1, "the steps are sent")
    steps = [step["g"] for step in rations(barn, before)[0]["steps"]]
    assert steps == sorted(steps)
    assert (len(steps) > 2, steps[-1]) == (True, 300)


def test_an_owner_goes_on_with_a_reason_and_it_is_kept(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    wanted(phone, subject(barn, "doe", "Clover"), 290, "Oats grain, whole")
    phone.page.get_by_text(say("gate.go")).click()
    phone.button(say("reason.had")).click()
    phone.saved()
    until(lambda: len(rations(barn, before)) == 1, "the ration is sent")
    said = rations(barn, before)[0]
    assert (said["reason"], [step["g"] for step in said["steps"]]) == ("had", [290])


def test_changing_what_is_typed_asks_anew_and_one_step_is_saved_without_a_word(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    wanted(phone, subject(barn, "doe", "Linnet"), 300, "Corn (maize) grain, rolled")
    expect(phone.page.get_by_role("alert", name=say("gate.title"))).to_be_visible()
    phone.page.get_by_label(re.compile(f"^{say('ration.amount')}")).first.fill("30")
    expect(phone.page.get_by_role("alert", name=say("gate.title"))).to_have_count(0)
    phone.button(say("ration.save")).click()
    phone.saved()
    until(lambda: [one["steps"][0]["g"] for one in rations(barn, before)] == [30], "it is sent")


def test_what_a_helper_wants_waits_and_is_let_in_on_another_phone(barn: Barn, another: Callable[..., Screen]) -> None:
    before = len(barn.log())
    hers = wanted(another("Mirrin"), subject(barn, "doe", "Linnet"), 5, "Wheat grain")
    ask = hers.page.get_by_role("alert", name=say("gate.title"))
    expect(ask).to_contain_text(say("gate.waits.raise", owner="Odette"))
    ask.get_by_label(say("gate.wish.why")).fill("She is thin")
    hers.button(say("gate.wish", owner="Odette")).click()
    hers.saved()
    until(lambda: len(rations(barn, before, "wish")) == 1, "the wish is sent")
    hers.open()
    expect(hers.page.get_by_text(say("wish.waits", owner="Odette"))).to_be_visible()
    owners = another("Odette", "Tumblegate").open()
    expect(owners.page.get_by_text(say("wish.because", reason="She is thin"))).to_be_visible()
    owners.button(say("wish.let_in")).click()
    expect(owners.button(say("wish.let_in"))).to_have_count(0)
    until(lambda: len(rations(barn, before)) == 1, "the ration is sent")
    wish = next(event for event in barn.log()[before:] if event["kind"] == "wish")
    assert rations(barn, before)[0]["wish"] == wish["id"]
    assert barn.refused() == 0

    # She who asked hears of it.
    hers.send_now()
    hers.doe("Linnet")
    expect(hers.page.get_by_text(say("wish.waits", owner="Odette"))).to_have_count(0)
    expect(plan_of(hers).get_by_text("Wheat grain").first).to_be_visible()


def test_steps_offered_near_kidding_are_saved_without_another_word(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    wanted(phone, subject(barn, "doe", "Yarrow"), 500)
    ask = phone.page.get_by_role("alert", name=say("gate.title"))
    expect(ask).to_contain_text(like("gate.calcium_fall"))
    phone.page.get_by_text(say("gate.go")).click()
    expect(phone.page.get_by_role("button", name=say("reason.rules"))).to_be_visible()
    expect(phone.page.get_by_role("button", name=say("reason.dried"))).to_have_count(0)
    phone.button(say("gate.use")).click()
    phone.saved()
    until(lambda: len(rations(barn, before)) == 1, "the steps are sent")
    assert rations(barn, before)[0]["reason"] == ""
    assert 0 < rations(barn, before)[0]["steps"][-1]["g"] < 500


def test_the_herd_rule_steps_are_saved_without_a_word(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    phone.open("ration", subject(barn, "doe", "Yarrow"))
    phone.pick_feed(say("f.feed"), "Oats grain, whole")
    phone.button(say("ration.adopt.short")).click()
    phone.button(say("ration.save")).click()
    phone.saved()
    until(lambda: len(rations(barn, before)) == 1, "the steps are sent")
    assert rations(barn, before)[0]["reason"] == ""
