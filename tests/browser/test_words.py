"""The words are a file of their own: nothing is shown before they are there; without them the page says so."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, Route, expect

from tests.browser.barn import Barn
from tests.browser.screen import CONTROLLED
from tests.support.words import say

pytestmark = pytest.mark.browser
WORDS = "**/assets/en-*.json"
ALL_TEXT = "() => document.body.innerText.trim()"
# In the page itself, and for its first load alone: a worker quick to take over would fetch past a route.
NO_WORDS_AT_FIRST = """
if (!sessionStorage.getItem("opened")) {
  sessionStorage.setItem("opened", "once");
  const fetched = window.fetch;
  window.fetch = (what, how) =>
    /assets\\/en-/.test(String(what.url ?? what)) ? Promise.reject(new TypeError("no signal")) : fetched(what, how);
}
"""


@pytest.fixture
def first_visit(built_client: None, barn: Barn, page: Page) -> Page:
    return page


def test_nothing_is_shown_before_the_words_are_there(barn: Barn, first_visit: Page) -> None:
    held: list[Route] = []
    first_visit.route(WORDS, lambda route: held.append(route))
    with first_visit.expect_request(WORDS):
        first_visit.goto(barn.server.url)
    assert first_visit.evaluate(ALL_TEXT) == ""
    held[0].continue_()
    expect(first_visit.get_by_role("button", name=say("sign.go"), exact=True)).to_be_visible()


def test_without_words_the_page_says_so_and_another_try_helps(barn: Barn, first_visit: Page) -> None:
    first_visit.add_init_script(NO_WORDS_AT_FIRST)
    first_visit.goto(barn.server.url)
    expect(first_visit.get_by_text("could not fetch its words")).to_be_visible()
    first_visit.wait_for_function(CONTROLLED)
    first_visit.get_by_role("link").click()
    expect(first_visit.get_by_role("button", name=say("sign.go"), exact=True)).to_be_visible()


def test_the_page_says_its_language(barn: Barn, first_visit: Page) -> None:
    first_visit.goto(barn.server.url)
    expect(first_visit.get_by_role("button", name=say("sign.go"), exact=True)).to_be_visible()
    assert first_visit.evaluate("() => document.documentElement.lang") == "en"
