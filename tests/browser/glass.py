"""What a person's thumb does in a browser that Selenium drives, in the app's own words."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from tests.browser.screen import SEEN
from tests.support.words import say

if TYPE_CHECKING:
    from selenium.webdriver.remote.webdriver import WebDriver
    from selenium.webdriver.remote.webelement import WebElement

SLOW_S = 60.0


class Glass:
    def __init__(self, driver: WebDriver, url: str) -> None:
        self.driver, self.url = driver, url

    def open(self, *path: str) -> Glass:
        """Within the open app a change of place, else the page anew."""
        address = f"{self.url}/#/{'/'.join(path)}"
        if self.driver.current_url.startswith(self.url):
            self.driver.execute_script("location.hash = arguments[0];", f"#/{'/'.join(path)}")
        else:
            self.driver.get(address)
        return self

    def reload(self) -> None:
        self.driver.execute_script("location.reload();")

    def sign_in(self, name: str, password: str) -> Glass:
        self.driver.get(self.url)
        self.driver.execute_script(SEEN)
        self.fill_in_sign_in(name, password)
        self.heading(say("chores"))
        return self

    def fill_in_sign_in(self, name: str, password: str) -> None:
        for label, value in (("sign.name", name), ("sign.password", password)):
            self.find("label", re.escape(say(label)))
            field = self.driver.execute_script(FIELD, say(label))
            field.send_keys(value)
        self.tap(re.escape(say("sign.go")))

    def find(self, what: str, words: str, within: str = "body") -> WebElement:
        """The first WHAT one can see whose name is WORDS, a pattern."""
        return self.until(lambda: self.seen(what, words, within), f"{what} {words!r} in {within!r}")

    def seen(self, what: str, words: str, within: str = "body") -> Any:
        return self.driver.execute_script(FIND, what, f"^(?:{words})$", within)

    def heading(self, words: str) -> WebElement:
        return self.find("h1", re.escape(words))

    def tap(self, words: str, within: str = "body") -> None:
        """By the browser's own pointer, in the middle of it: what lies over it takes the tap, as under a thumb."""
        at = self.find("button, a[href], summary, label", words, within)
        self.driver.execute_script("arguments[0].scrollIntoView({ block: 'center' });", at)
        self.until(lambda: self.driver.execute_async_script(STILL, at), f"{words!r} to lie still")
        at.click()

    def text(self, selector: str) -> str:
        return str(self.driver.execute_script(TEXT, selector))

    def chip(self, words: re.Pattern[str]) -> None:
        self.until(lambda: words.search(self.text("header a[href='#/pending']")), f"the chip to say {words.pattern!r}")

    def says(self, words: str, within: str = "main") -> None:
        self.until(lambda: re.search(words, self.text(within)), f"{within} to say {words!r}")

    def controlled(self) -> None:
        self.until(lambda: self.driver.execute_script(CONTROLLED), "the service worker to take over")

    def until(self, true: Callable[[], Any], what: str) -> Any:
        end = time.monotonic() + SLOW_S
        while True:
            try:
                if found := true():
                    return found
            except Exception:  # a page that is being left has no script to run
                if time.monotonic() > end:
                    raise
            assert time.monotonic() < end, f"not within {SLOW_S} s: {what}\n{self.text('body')[:1500]}"
            time.sleep(0.1)


# While a list is still filling, what was aimed at slides away from under the pointer.
STILL = """
const [at, done] = arguments;
const place = () => JSON.stringify(at.getBoundingClientRect());
const before = place();
setTimeout(() => requestAnimationFrame(() => done(place() === before)), 150);
"""
TEXT = "return document.querySelector(arguments[0])?.innerText ?? '';"
CONTROLLED = "return navigator.serviceWorker.controller !== null;"
FIELD = """
const label = [...document.querySelectorAll("label")].find((at) => at.innerText.trim() === arguments[0]);
return label.control;
"""
FIND = """
const [what, words, within] = arguments;
const said = new RegExp(words, "s");
// The text of a row out of sight is not laid out, but it is there.
const plain = (text) => text.replace(/\\u00ad/g, "").replace(/\\s+/g, " ").trim();
const name = (at) => plain(at.getAttribute("aria-label") ?? at.textContent);
const all = [...document.querySelectorAll(within)].flatMap((at) => [...at.querySelectorAll(what)]);
return all.find((at) => at.getClientRects().length && said.test(name(at))) ?? null;
"""
