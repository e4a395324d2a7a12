"""What is asked after a tap lies under nothing, and the vet's number is in sight, however the phone is held."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.places import CARDS, PAINTED, emergency, subject, visit
from tests.browser.rows import LEFT, row, tap
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
UPRIGHT, ON_ITS_SIDE = {"width": 360, "height": 740}, {"width": 740, "height": 360}
HELD = pytest.mark.parametrize("size", [UPRIGHT, ON_ITS_SIDE], ids=["upright", "on its side"])
# Whether a thumb on any corner or the middle of it touches it and nothing else.
FREE = """(at) => {
  const { left, right, top, bottom } = at.getBoundingClientRect();
  const spots = [[left + 6, top + 6], [right - 6, top + 6], [left + 6, bottom - 6], [right - 6, bottom - 6],
    [(left + right) / 2, (top + bottom) / 2]];
  return spots.every(([x, y]) => at.contains(document.elementFromPoint(x, y)));
}"""
FIRST_ACT = ".part.first .said-list > li"


@HELD
def test_how_much_was_left_lies_under_nothing(phone: Screen, size: Any) -> None:
    page = phone.page
    page.set_viewport_size(size)
    for name in ("Juniper", "Tansy", "Mallow", "Fennel", "Hazel", "Wren"):
        phone.chores("evening")
        button = row(phone, name).get_by_role("button", name=f"{LEFT}: {name}")
        button.evaluate("(at) => at.scrollIntoView({ block: 'end' })")
        page.evaluate(PAINTED)
        button.click()
        asked = page.get_by_role("group", name=re.compile(say("ate.how_much").rstrip("?") + f".*{name}"))
        expect(asked).to_be_visible()
        page.wait_for_timeout(400)
        assert asked.get_by_role("button").evaluate_all(f"(all) => all.map({FREE})") == [True] * 4, name
        tap(phone, say("undo"))


@HELD
def test_the_vets_number_is_in_sight_on_every_page_of_trouble(phone: Screen, barn: Barn, size: Any) -> None:
    page = phone.page
    page.set_viewport_size(size)
    places = {**emergency(barn), "off feed": f"doe/{subject(barn, 'doe', 'Marigold')}/off"}
    lacking = []
    for name in ("emergency", *(f"emergency {card}" for card in CARDS), "emergency for a doe", "vet", "off feed"):
        visit(phone, places[name])
        ring = page.locator("main .save a[href^='tel:']")
        expect(ring).to_have_count(1)
        for down in (0, 400, 99_999):
            page.evaluate("(y) => scrollTo(0, y)", down)
            page.evaluate(PAINTED)
            if not ring.evaluate(FREE):
                lacking.append(f"{name} {down}")
    assert lacking == []


@HELD
def test_a_card_opens_on_what_to_do(phone: Screen, size: Any) -> None:
    page = phone.page
    page.set_viewport_size(size)
    late = []
    for card in CARDS:
        visit(phone, f"emergency/{card}")
        heads = page.locator("main h2").all_inner_texts()
        assert heads.index(say("emergency.first")) < heads.index(say("emergency.signs"))
        act = page.locator(FIRST_ACT).first.locator("> span")
        expect(act).to_be_visible()
        foot = page.locator("main .save.vet").bounding_box()
        words = act.bounding_box()
        assert foot
        assert words
        if words["y"] + words["height"] > foot["y"]:
            late.append((card, words["y"], words["height"], foot["y"]))
    assert late == []
