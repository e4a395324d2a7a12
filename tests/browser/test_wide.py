"""A laptop in the kitchen: the herd as a table that sorts, and a doe beside the list."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, ViewportSize, expect

from tests.browser.barn import Barn
from tests.browser.measures import too_wide
from tests.browser.places import PAINTED, addresses, visit
from tests.browser.screen import Screen
from tests.support.thorough import THOROUGH
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
LAPTOP: ViewportSize = {"width": 1440, "height": 900}


def laptop(barn: Barn, new_context: Callable[..., BrowserContext]) -> Screen:
    page = new_context().new_page()
    page.set_viewport_size(LAPTOP)
    return Screen(page, barn.server.url).sign_in("Jory", barn.passwords["Jory"])


def test_the_herd_sorts_by_what_is_tapped_and_what_is_unknown_goes_last(
    barn: Barn, new_context: Callable[..., BrowserContext]
) -> None:
    screen = laptop(barn, new_context)
    visit(screen, "does")
    names = screen.page.locator(".herd tbody th")
    days = screen.page.locator(".herd tbody td:nth-of-type(2)")
    expect(names).to_have_count(15)
    screen.button(like("herd.name")).click()
    assert names.all_inner_texts() == sorted(names.all_inner_texts())
    screen.button(like("herd.day")).click()
    up = [int(text) for text in days.all_inner_texts() if text]
    assert up == sorted(up)
    assert days.all_inner_texts()[len(up) :] == [""] * (15 - len(up))
    screen.button(like("herd.day")).click()
    down = [int(text) for text in days.all_inner_texts() if text]
    assert down == up[::-1]
    assert days.all_inner_texts()[: len(up)] == [str(day) for day in down]


def test_the_list_stays_beside_whoever_is_looked_at(barn: Barn, new_context: Callable[..., BrowserContext]) -> None:
    screen = laptop(barn, new_context)
    visit(screen, "does")
    screen.page.locator(".herd").get_by_role("link", name="Teasel").click()
    screen.at("Teasel")
    beside = screen.page.get_by_role("navigation", name=say("does"), exact=True)
    expect(beside.locator("[aria-current=page]")).to_contain_text("Teasel")
    beside.get_by_role("link", name="Clover").click()
    screen.at("Clover")
    expect(beside.locator("[aria-current=page]")).to_contain_text("Clover")


def test_no_screen_is_wider_than_a_laptop_or_a_tablet(barn: Barn, new_context: Callable[..., BrowserContext]) -> None:
    screen = laptop(barn, new_context)
    for name, address in list(addresses(barn).items())[:: 1 if THOROUGH else 2]:
        visit(screen, address)
        for size in (ViewportSize(width=920, height=700), LAPTOP):
            screen.page.set_viewport_size(size)
            screen.page.evaluate(PAINTED)
            assert too_wide(screen.page) == [], name
