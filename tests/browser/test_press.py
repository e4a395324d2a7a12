"""A tap reaches what was under the finger when it came down, however the page moves before it is lifted."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.rows import LEFT
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(120)]
# A row of another doe, and more, comes to stand where the finger is.
SHIFT = """() => {
  const wedge = document.createElement("div");
  wedge.style.height = "130px";
  document.documentElement.style.overflowAnchor = "none";
  document.querySelector("main ul.list").before(wedge);
}"""


def press_and_shift(phone: Screen, on: Locator) -> None:
    # every doe has been judged; the buck stays without a mark
    expect(phone.page.locator("li.doe-row:not(:has(.mark))")).to_have_count(1)
    on.hover(position={"x": 20, "y": 20})
    mouse = phone.page.mouse
    mouse.down()
    phone.page.evaluate(SHIFT)
    mouse.up()


def row_link(phone: Screen, name: str) -> Locator:
    return phone.row(name).get_by_role("link").first


def test_the_page_moves_under_the_finger_and_her_own_page_opens(phone: Screen) -> None:
    phone.chores()
    press_and_shift(phone, row_link(phone, "Juniper"))
    expect(phone.heading("Juniper")).to_be_visible()


def test_a_button_pressed_is_the_one_that_acts(phone: Screen) -> None:
    phone.chores("evening")
    button = phone.row("Juniper").get_by_role("button", name=re.compile(LEFT))
    press_and_shift(phone, button)
    expect(phone.row("Juniper").locator(".left.told")).to_be_visible()


def test_a_finger_that_slides_off_acts_on_nothing(phone: Screen) -> None:
    phone.chores()
    box = row_link(phone, "Juniper").bounding_box()
    assert box is not None
    mouse = phone.page.mouse
    mouse.move(box["x"] + 20, box["y"] + 20)
    mouse.down()
    mouse.move(box["x"] + 20, box["y"] + 160)
    mouse.up()
    expect(phone.heading(say("chores"))).to_be_visible()
    expect(phone.heading("Juniper")).to_have_count(0)
