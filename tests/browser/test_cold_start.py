"""The app is two scripts, and both stand on the phone: every screen opens without a server from nothing."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import BrowserContext, Page, expect

from tests.bench.in_browser import COUNT
from tests.browser.barn import Barn, until
from tests.browser.places import addresses, sitters
from tests.browser.screen import Screen
from tests.browser.sitters import HELPER, go_by_pack
from tests.support.thorough import THOROUGH
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
# Of the screens so many each day: which script a screen is in hangs on its folder, and these are next to each other.
SHARE = 1 if THOROUGH else 4
SECOND = "() => document.querySelector('script[src*=second]') !== null"
LOSE_SECOND = """async () => {
  let lost = 0;
  for (const name of await caches.keys()) {
    const cache = await caches.open(name);
    for (const request of await cache.keys())
      if (request.url.includes("/second-")) lost += await cache.delete(request);
  }
  return lost;
}"""
OF_ANOTHER = """() => new Promise((done) => {
  addEventListener("error", ({ message }) => done(message), { once: true });
  const script = document.createElement("script");
  script.src = "/other.js";
  document.head.append(script);
})"""


@pytest.fixture
def everywhere(barn: Barn) -> dict[str, str]:
    """Found before the server is frozen: it may be in the middle of writing, and then nobody reads its database."""
    return addresses(barn)


@pytest.fixture
def cut_off(barn: Barn, phone: Screen, everywhere: dict[str, str]) -> Page:
    """Everything is on the phone, and the server is gone."""
    until(lambda: bool(phone.page.evaluate(f"({COUNT})('picture')")), "the picture of a farm at rest")
    barn.server.freeze()
    phone.page.context.set_offline(True)
    return phone.page


def test_every_screen_opens_without_a_server_after_a_cold_start(everywhere: dict[str, str], cut_off: Page) -> None:
    app = cut_off.url.split("#")[0]
    for name, address in [*everywhere.items()][::SHARE]:
        page = cut_off.context.new_page()
        page.goto(f"{app}#/{address}")
        expect(page.get_by_role("heading", level=1), name).to_be_visible()
        assert page.get_by_role("heading", level=1).inner_text() != say("not_found"), name
        page.close()


def test_a_sitters_screens_open_without_a_server_after_a_cold_start(
    barn: Barn, phone: Screen, another: Callable[..., Screen], new_context: Callable[..., BrowserContext]
) -> None:
    go_by_pack(phone, barn, new_context())
    sitter = another(HELPER).controlled()
    places = {"home": "", **sitters(barn)}
    barn.server.freeze()
    context = sitter.page.context
    context.set_offline(True)
    sitter.page.close()
    for name, address in places.items():
        page = context.new_page()
        page.goto(f"{barn.server.url}/#/{address}")
        expect(page.get_by_role("heading", level=1), name).to_be_visible()
        closed = page.get_by_role("heading", level=1).inner_text() == say("not_found")
        assert closed == (name == "sitter closed"), name
        if name == "home":
            expect(page.locator("nav.nav a")).to_have_count(2)
            expect(page.locator(".pen").first).to_be_visible()
        page.close()


def test_without_its_second_script_a_phone_says_what_to_do_and_still_records(barn: Barn, cut_off: Page) -> None:
    assert cut_off.evaluate(LOSE_SECOND) == 1
    cut_off.context.new_cdp_session(cut_off).send("Network.clearBrowserCache")
    page = cut_off.context.new_page()
    page.goto(cut_off.url)
    expect(page.get_by_text(say("update.lacking"))).to_be_visible()
    left = page.locator(".ways .left:not(.told)").first
    name = left.get_attribute("aria-label")
    left.click()
    expect(page.locator(".sr[role=status]")).to_contain_text(say("saved"))
    barn.server.thaw()
    before = len(barn.log())
    page.context.set_offline(False)
    page.get_by_role("button", name=say("update.again")).click()
    page.wait_for_function(SECOND)
    expect(page.get_by_text(say("update.lacking"))).to_be_hidden()
    assert name is not None
    hers = page.locator("li.doe-row", has=page.get_by_text(name.split(": ")[1], exact=True))
    expect(hers.locator(".ways .told")).to_be_visible()
    until(lambda: "intake" in barn.added(before), "what was recorded meanwhile, at the server")
    assert barn.added(before, "intake") == ["intake"]


def test_the_second_script_of_another_build_does_not_run(phone: Screen) -> None:
    page = phone.page
    page.wait_for_function(SECOND)
    other = "mangerline('./second-other.js', (exports, require) => require('./index-other.js').t());"
    page.context.route("**/other.js", lambda route: route.fulfill(body=other, content_type="text/javascript"))
    assert "belongs to another build" in page.evaluate(OF_ANOTHER)
