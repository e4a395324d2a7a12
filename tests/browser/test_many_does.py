"""Beyond what the app is quick for it says so: once over the first screen, and on the farm's page."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.bench.big_farm import PASSWORD, PERSON
from tests.bench.ground import farm_of
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]


@pytest.mark.parametrize(("does", "told"), [(151, True), (20, False)])
def test_a_farm_of_many_does_is_told_once_what_to_expect(built_client: None, page: Page, does: int, told: bool) -> None:
    with farm_of(does, 1) as server, server:
        screen = Screen(page, server.url).sign_in(PERSON, PASSWORD)
        words = page.get_by_text(say("farm.many.once", n=does))
        expect(screen.page.locator(".ate")).to_have_count(does)
        expect(words).to_have_count(int(told))
        if told:
            screen.button(say("close")).click()
            expect(words).to_have_count(0)
            page.reload()
            expect(page.locator(".ate")).to_have_count(does)
            expect(words).to_have_count(0)
        screen.open("farm")
        expect(page.get_by_role("link", name=say("farm.rules"))).to_be_visible()
        expect(page.get_by_text(say("farm.many", n=does))).to_have_count(int(told))
