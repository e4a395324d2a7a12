"""A number is tapped in the barn: what makes it, and the reference behind it, without a server."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser


def test_a_number_is_taken_apart_and_looked_up_without_a_server(phone: Screen, barn: Barn) -> None:
    page = phone.doe("Yarrow").page
    barn.server.freeze()
    page.reload()
    page.locator("a[href$='/why/me']").click()
    expect(phone.heading(re.compile(say("nutrient.me")))).to_be_visible()
    page.locator("summary", has_text=say("why.term.maintenance")).click()
    expect(page.get_by_text("501.3 kJ").first).to_be_visible()
    expect(page.get_by_text("Seen in the source").first).to_be_visible()
    expect(page.get_by_text(like("why.share")).first).to_be_visible()
    page.get_by_role("link", name=say("ref.open")).first.click()
    phone.at(say("ref"))
    expect(page.get_by_text("Metabolizable energy requirements for maintenance").first).to_be_visible()


def test_the_reference_is_searched_without_a_server(phone: Screen, barn: Barn) -> None:
    barn.server.freeze()
    page = phone.open("reference").page
    page.get_by_label(say("ref.search")).fill("absorbed calcium milk")
    page.get_by_role("link", name="Absorbed calcium for milk").click()
    expect(page.get_by_text("1.25 milk")).to_be_visible()
