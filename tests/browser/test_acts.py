"""What can be done about a feed prompt, on the doe's page: offered, put in her plan, taken out, without a signal."""

from __future__ import annotations

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser


def offered(screen: Screen) -> Locator:
    """The act that is offered first, once it is worked out."""
    expect(screen.page.locator(".acts")).to_have_attribute("aria-busy", "false")
    return screen.page.locator(".act-offer").first


def test_an_act_is_put_in_her_plan_with_one_tap_and_taken_out_with_one(phone: Screen, barn: Barn) -> None:
    barn.server.freeze()
    phone.doe("Mallow")
    act = offered(phone)
    before = act.inner_text()
    assert like("act.brings").search(before)
    act.get_by_role("button", name=say("act.put")).click()
    phone.saved()
    expect(phone.page.locator(".acts")).to_contain_text(like("act.by_plan"))
    phone.button(say("undo")).last.click()
    assert offered(phone).inner_text() == before
