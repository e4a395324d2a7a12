"""Words, controls and screens of the busiest pages at 360x740, to be read: `python -m tests.browser.counts [NAME ...]`.

Whoever adds to one of them counts again before and after. Chores is counted on a morning nobody has fed yet.
"""

from __future__ import annotations

import sys
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, sync_playwright

from tests.browser.barn import ZONE
from tests.browser.pictures import PHONE, TALL, demo
from tests.browser.places import PAINTED, addresses, visit
from tests.browser.screen import Screen
from tests.support import chromium

COUNTED = (
    *("chores", "does", "doe", "doe in trouble", "doe score", "doe signs", "off feed", "emergency milk_fever"),
    *("farm lots/new/lab", "farm rules", "doe why me", "reference ", "farm doe/new", "farm"),
)
WIDE, HIGH = 360, 740
COUNT = """() => ({
  words: document.body.innerText.split(/\\s+/).filter(Boolean).length,
  controls: [...document.querySelectorAll("button, a[href], input, select, textarea, summary")]
    .filter((one) => one.checkVisibility()).length,
})"""


@dataclass(frozen=True)
class Counted:
    words: int
    controls: int
    screens: float

    def __str__(self) -> str:
        return f"{self.words:6} words {self.controls:4} controls {self.screens:6.1f} screens"


def count(screen: Screen) -> Counted:
    """Drawn whole first: rows out of sight are as high as guessed until then."""
    page = screen.page
    for _ in range(2):
        page.set_viewport_size({"width": WIDE, "height": page.evaluate(TALL)})
        page.evaluate(PAINTED)
    page.wait_for_timeout(500)
    page.set_viewport_size({"width": WIDE, "height": HIGH})
    page.evaluate(PAINTED)
    found = page.evaluate(COUNT)
    high = page.evaluate("document.documentElement.scrollHeight")
    return Counted(found["words"], found["controls"], high / HIGH)


def at_dawn(page: Page) -> None:
    """Chores on a morning nobody has fed yet."""
    dawn = datetime.now(ZoneInfo(ZONE)).replace(hour=6, minute=0) + timedelta(days=1)
    page.clock.set_fixed_time(dawn)
    page.reload()
    page.locator(".pen").first.wait_for()
    page.wait_for_timeout(3_000)


def main(names: tuple[str, ...]) -> None:
    with demo() as barn, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=str(chromium.find()), args=chromium.ARGS)
        page = browser.new_context(**PHONE, viewport={"width": WIDE, "height": HIGH}).new_page()
        screen = Screen(page, barn.server.url).open().sign_in("Jory", barn.passwords["Jory"]).controlled()
        for name in names:
            visit(screen, addresses(barn)[name])
            if name == "chores":
                at_dawn(page)
            print(f"{name:24}{count(screen)}", flush=True)
            if name == "chores":
                page.clock.set_fixed_time(datetime.now(ZoneInfo(ZONE)))
                page.reload()


if __name__ == "__main__":
    main(tuple(sys.argv[1:]) or COUNTED)
