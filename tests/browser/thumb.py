"""A person's thumb on a phone, its time counted and never slept: so much a tap, so much a letter."""

from __future__ import annotations

import re
from dataclasses import dataclass

from playwright.sync_api import Locator, Page

from tests.support.words import say

TAP_S, LETTER_S = 1.2, 0.3


@dataclass
class Thumb:
    page: Page
    taps: int = 0
    letters: int = 0

    @property
    def seconds(self) -> float:
        return self.taps * TAP_S + self.letters * LETTER_S

    def tap(self, at: Locator) -> None:
        at.click()
        self.taps += 1

    def type(self, at: Locator, text: str) -> None:
        """A tap into the box, then letter by letter."""
        self.tap(at)
        at.press_sequentially(text)
        self.letters += len(text)

    def button(self, key: str, **said: str | int) -> None:
        self.named(say(key, **said))

    def named(self, name: str) -> None:
        """The button that begins with these words; what stands under them is of no matter."""
        of = re.compile(rf"^\s*{re.escape(name)}(\s|$)")
        self.tap(self.page.get_by_role("main").get_by_role("button", name=of).first)

    def link(self, key: str) -> None:
        self.tap(self.page.get_by_role("main").get_by_role("link", name=say(key), exact=True))
