"""Who pushes stands first on the watch, and a look that is written down moves nobody from under the thumb."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.lately import KIDDING, PUSHING, WATCHED, make_lately
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(120)]


def test_the_gravest_stand_first_and_nobody_moves_under_the_thumb(barn: Barn, another: Callable[..., Screen]) -> None:
    make_lately(barn)
    phone = another("Jory")
    phone.open("watch")
    names = phone.page.locator(".watched .her h2")
    # once a kid is out nothing is waited for: the night's own page counts from there
    before = [PUSHING, WATCHED]
    expect(names).to_have_text(before)
    expect(phone.page.get_by_role("region", name=KIDDING, exact=True)).to_have_count(0)
    for name in before:
        card = phone.page.get_by_role("region", name=name, exact=True)
        card.get_by_role("button", name=say("watch.same"), exact=True).click()
        expect(card).to_contain_text(say("you"))
        assert names.all_inner_texts() == before, name
