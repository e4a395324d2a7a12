"""In the barn: the screen stays on, and everything is large enough for a glove."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, expect

from tests.browser.barn import Barn
from tests.browser.measures import check, clipped, targets, too_wide
from tests.browser.places import PAINTED, subject, visit
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
BARN_PX, GLOVE_PX, READABLE = 72, 96, 4.5
NARROWEST = {"width": 320, "height": 640}
FLOW = ("", "off", "farm/order", "who")
STUB_LOCK = """() => {
  window.locks = [];
  const request = async () => {
    const lock = new EventTarget();
    lock.released = false;
    lock.release = async () => { lock.released = true; };
    window.locks.push(lock);
    return lock;
  };
  Object.defineProperty(navigator, "wakeLock", { configurable: true, value: { request } });
}"""
HELD = "() => window.locks.filter(({ released }) => !released).length"
SHOW_ALL = """() => document.querySelectorAll(".pen, .doe-row").forEach((at) => {
  at.style.contentVisibility = "visible";
})"""
BARN_BUTTONS = """() => [...document.querySelectorAll("main .btn.barn, main .btn.act:not(.slim)")]
  .filter((at) => at.checkVisibility()).map((at) => [at.getBoundingClientRect().height, at.innerText])"""


def test_the_screen_stays_on_while_chores_is_open_and_no_longer(
    barn: Barn, new_context: Callable[..., BrowserContext]
) -> None:
    context = new_context()
    context.add_init_script(f"({STUB_LOCK})()")
    screen = Screen(context.new_page(), barn.server.url).sign_in("Jory", barn.passwords["Jory"])
    page = screen.page
    page.wait_for_function(f"() => ({HELD})() === 1")
    page.evaluate("() => window.locks[0].dispatchEvent(new Event('release'))")
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    page.wait_for_function("() => window.locks.length === 2")
    visit(screen, "does")
    page.wait_for_function("() => window.locks[1].released")
    visit(screen, "farm")
    page.get_by_label(say("barn.stay_on")).uncheck()
    visit(screen, "")
    page.evaluate(PAINTED)
    assert page.evaluate("() => window.locks.length") == 2


def test_a_browser_that_cannot_keep_the_screen_on_says_so(
    barn: Barn, new_context: Callable[..., BrowserContext]
) -> None:
    context = new_context()
    context.add_init_script("delete Navigator.prototype.wakeLock")
    screen = Screen(context.new_page(), barn.server.url).sign_in("Jory", barn.passwords["Jory"])
    visit(screen, "farm")
    expect(screen.page.get_by_text(say("barn.stay_on.unsupported"))).to_be_visible()


@pytest.mark.parametrize("glove", [False, True], ids=["bare", "glove"])
def test_barn_buttons_are_large_whole_and_accessible(barn: Barn, phone: Screen, glove: bool) -> None:
    page = phone.page
    off = f"doe/{subject(barn, 'doe', 'Marigold')}/off"
    visit(phone, "farm")
    if glove:
        page.get_by_label(say("barn.glove")).check()
    least = GLOVE_PX if glove else BARN_PX
    for address in (off if address == "off" else address for address in FLOW):
        visit(phone, address)
        page.evaluate(SHOW_ALL)
        small = [(height, text) for height, text in page.evaluate(BARN_BUTTONS) if height < least - 0.5]
        assert small == [], address
        assert [one for one in targets(page) if one["height"] < 59.5] == [], address
        found = check(page)
        assert found.wrong == [], address
        assert min(ratio for ratio, _ in found.contrasts) >= READABLE
        page.set_viewport_size(NARROWEST)
        page.evaluate(PAINTED)
        assert too_wide(page) == [], address
        page.set_viewport_size({"width": 360, "height": 740})
        page.evaluate("() => { document.documentElement.style.fontSize = '225%'; }")
        page.evaluate(PAINTED)
        assert [*too_wide(page), *clipped(page)] == [], address
        page.evaluate("() => { document.documentElement.style.fontSize = ''; }")
    page.reload()
    expect(page.locator("html.glove")).to_have_count(1 if glove else 0)
