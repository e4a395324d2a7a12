"""What only an owner is shown, and the doors before anybody is in: readable, whole, large enough for a glove."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.measures import wrong
from tests.browser.places import DOORS, dress, owners, visit
from tests.browser.screen import Screen
from tests.support.words import LANGUAGES, say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]


@pytest.mark.parametrize(("theme", "language"), [("day", "en"), ("night", "es")])
def test_what_an_owner_is_shown_is_readable_whole_and_large_enough(owner: Screen, theme: str, language: str) -> None:
    with speaking(language):
        dress(owner.page, theme)
        for name, address in owners().items():
            visit(owner, address)
            expect(owner.page.get_by_role("alert")).to_have_count(0)
            assert wrong(owner.page) == [], name
        owner.open("farm", "people", "invite", "helper")
        owner.button(say("invite.go")).click()
        expect(owner.page.locator("img.qr")).to_be_visible()
        assert wrong(owner.page) == [], "invitation"
        owner.open("farm", "people")
        owner.link(re.compile("^Jory")).click()
        expect(owner.button(re.compile(f"^{say('role.family')}"))).to_be_enabled()
        owner.page.get_by_text(say("member.last_day"), exact=True).click()
        owner.page.get_by_text(say("member.remove", name="Jory"), exact=True).click()
        assert wrong(owner.page) == [], "member"


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_doors_are_readable_before_anybody_is_in(phones: Callable[..., Screen], language: str) -> None:
    screen = phones(f"localStorage.setItem('mangerline.language', '{language}')").open()
    with speaking(language):
        for door in DOORS:
            screen.open(door)
            expect(screen.page.get_by_role("heading", level=2).first).to_be_visible()
            assert wrong(screen.page) == [], door
