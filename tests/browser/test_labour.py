"""Labour comes before a left meal, on a farm of its own: nobody has seen to Marigold yet."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = pytest.mark.browser


def test_labour_goes_first_and_what_is_behind_a_word_is_one_tap_away(phone: Screen) -> None:
    """Marigold has two left meals, and then she pushes, with ten days to go."""
    page = phone.page
    phone.doe("Marigold")
    phone.link(say("off.open")).click()
    page.get_by_role("group", name=say("off.left")).get_by_role("button", name=say("off.left.grain")).click()
    page.get_by_role("group", name=say("off.check.urine")).get_by_role("button", name=say("o.urine.small")).click()
    expect(page.get_by_text(say("off.take.temp"))).to_be_visible()
    page.locator("details.rests summary").first.click()
    expect(page.get_by_text(say("basis.second_meal"))).to_be_visible()
    expect(page.get_by_text(say("standing.PRACTICE")).first).to_be_visible()
    page.get_by_role("button", name=say("off.labour.straining"), exact=True).click()
    expect(page.locator(".told").first).to_contain_text(re.compile(r"Marigold.*\d\d:\d\d"))
    # from the first push on her page is the night's, with the clock and the call
    expect(page).to_have_url(re.compile("/night$"))
    expect(page.get_by_role("timer")).to_have_text(re.compile(r"^00:\d\d$"))
    expect(page.locator("a.watch-bar")).to_have_count(0)
    page.get_by_role("button", name=say("off.labour.kid_out"), exact=True).click()
    phone.open()
    expect(page.locator("a.watch-bar")).to_have_text(say("watch.bar.kid", name="Marigold", n=0))
