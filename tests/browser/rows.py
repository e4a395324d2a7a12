"""A doe's row on Chores, and what a thumb does on that screen."""

from __future__ import annotations

import re

from playwright.sync_api import Locator

from tests.browser.screen import Screen
from tests.support.words import say

LEFT = say("ate.left_some")
COUNT_TAPS = """() => {
  window.taps = [];
  window.keys = 0;
  addEventListener("click", ({ target }) => {
    const at = target.closest("button, a, summary, label");
    if (at) window.taps.push(at.getAttribute("aria-label") ?? at.innerText);
  }, true);
  addEventListener("keydown", () => { window.keys += 1; }, true);
}"""


def row(screen: Screen, name: str) -> Locator:
    return screen.page.locator("li.doe-row").filter(has=screen.page.locator("b.name", has_text=re.compile(f"^{name}$")))


def tap(screen: Screen, name: str | re.Pattern[str]) -> None:
    screen.button(name).first.click()
