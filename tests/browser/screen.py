"""What a person's thumb does on one phone, in the app's own words."""

from __future__ import annotations

import re

from playwright.sync_api import Locator, Page, expect
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from tests.support.words import either, like, say

# Sooner than it can be read, what came under the thumb is not tapped: that is the second tap of a double one.
READ_MS = 800
CONTROLLED = "() => navigator.serviceWorker.controller !== null"


class Screen:
    def __init__(self, page: Page, url: str, first_time: bool = False) -> None:
        """FIRST_TIME: nobody has seen the first round on this phone, and it is offered."""
        self.page, self.url = page, url
        if not first_time:
            page.add_init_script(SEEN)

    def open(self, *path: str) -> Screen:
        self.page.goto(f"{self.url}/#/{'/'.join(path)}")
        return self

    def sign_in(self, name: str, password: str, farm: str = "") -> Screen:
        self.open()
        self.fill_in_sign_in(name, password)
        if farm:
            self.button(re.compile(f"^{re.escape(farm)}")).click()
        expect(self.heading(say("chores"))).to_be_visible()
        expect(self.chip).to_contain_text(like("status.sent"))
        return self

    def fill_in_sign_in(self, name: str, password: str) -> None:
        self.page.get_by_label(say("sign.name"), exact=True).fill(name)
        self.page.get_by_label(say("sign.password"), exact=True).fill(password)
        self.button(say("sign.go")).click()

    def controlled(self) -> Screen:
        """The service worker has taken over: from here on the app opens without a server."""
        self.page.wait_for_function(CONTROLLED)
        return self

    def read(self) -> None:
        """Somebody looks at what came before they tap it."""
        self.page.wait_for_timeout(READ_MS)

    def button(self, name: str | re.Pattern[str]) -> Locator:
        return self.page.get_by_role("button", name=name, exact=isinstance(name, str))

    def link(self, name: str | re.Pattern[str]) -> Locator:
        return self.page.get_by_role("link", name=name, exact=isinstance(name, str))

    def heading(self, name: str | re.Pattern[str]) -> Locator:
        return self.page.get_by_role("heading", name=name, exact=isinstance(name, str))

    @property
    def chip(self) -> Locator:
        """How things stand with sending, at the head of every screen."""
        return self.page.locator("header a[href='#/pending']")

    @property
    def toast(self) -> Locator:
        return self.page.locator(".sr[role=status]")

    def chores(self, slot: str = "morning") -> Screen:
        self.open()
        self.button(say(f"slot.{slot}")).click()
        return self.unfold()

    def unfold(self) -> Screen:
        """Pens that are fed are one line each until somebody opens them."""
        expect(self.page.locator(".pen").first).to_be_visible()
        self.page.evaluate(UNFOLD)
        return self

    def doe(self, name: str) -> Screen:
        """Her own page, by her row in the chores list."""
        self.open().unfold()
        self.page.locator("li", has=self.button(re.compile(f"^{name}: "))).get_by_role("link").first.click()
        expect(self.heading(name)).to_be_visible()
        return self

    def row(self, name: str) -> Locator:
        """Her line on Chores."""
        return self.page.locator("li.doe-row", has=self.page.get_by_text(name, exact=True))

    def ate_sheet(self, name: str) -> None:
        self.chores()
        self.page.locator(".doe-row").get_by_role("button", name=re.compile(f"^{name}: ")).click()

    def ate(self, name: str, how: str) -> None:
        self.ate_sheet(name)
        self.button(say(f"ate.{how}")).click()

    def as_planned(self, pen: str) -> None:
        words = like("pen.all", pen=pen).pattern
        self.button(re.compile(f"{words}.*{pen}|{pen}.*{words}")).click()

    def form(self, name: str, form: str) -> Screen:
        self.doe(name)
        self.link(say("doe.record", name=name)).click()
        self.link(say(f"rec.{form}")).click()
        return self

    def udder(self, name: str, fill: int) -> None:
        self.form(name, "udder").button(re.compile(f"^{re.escape(say(f'udder.fill.{fill}'))}")).click()
        self.at(name)

    def score(self, name: str, whole: int) -> None:
        self.form(name, "score")
        for part in ("loin", "brisket"):
            felt = self.page.get_by_role("group", name=say(f"score.{part}"), exact=True)
            felt.get_by_role("button", name=re.compile(f"^{whole}")).click()
        self.button(like("score.save")).click()
        self.at(name)

    def sign(self, name: str, code: str) -> None:
        self.form(name, "signs")
        row = self.page.get_by_role("group", name=say(f"sign.{code}"))
        row.get_by_role("button", name=say("signs.seen"), exact=True).click()
        self.button(say("signs.save")).click()
        self.at(name)

    def at(self, title: str | re.Pattern[str]) -> None:
        expect(self.heading(title)).to_be_visible()

    def pick_feed(self, label: str, name: str) -> None:
        """By a part of its name, as somebody types it; the first that is found."""
        box = self.page.get_by_role("combobox", name=label, exact=True)
        box.fill(name)
        box.press("Enter")

    def saved(self) -> None:
        expect(self.toast).to_contain_text(like("saved"))

    def send_now(self) -> None:
        """Ask for a sending. The app sends by itself too, and then the button is gone before the tap."""
        self.open("pending")
        button = self.button(say("pending.now"))
        try:
            button.click(timeout=4_000)
        except PlaywrightTimeout:
            expect(button).to_have_count(0)

    def sign_in_again_if_asked(self, name: str, password: str) -> None:
        expect(self.chip).to_contain_text(either("status.sent", "status.locked", "status.locked.none"), timeout=20_000)
        if either("status.locked", "status.locked.none").search(self.chip.inner_text()):
            self.open("pending").fill_in_sign_in(name, password)

    def all_sent(self) -> None:
        # A server with its hands full asks for half a minute.
        expect(self.chip).to_contain_text(like("status.sent"), timeout=60_000)

    def watch_words(self) -> None:
        """From here on remember every word the chip and the toast have shown."""
        self.page.evaluate(REMEMBER)

    def words(self) -> list[str]:
        return list(self.page.evaluate("() => window.shown"))


SEEN = """try {
  localStorage.setItem("mangerline.first_round", "seen");
} catch {
  // an empty page has no storage
}"""
UNFOLD = """async () => {
  for (let frames = 0; frames < 20; frames += 1) {
    document.querySelectorAll(".pen h2 button[aria-expanded=false]").forEach((at) => at.click());
    await new Promise(requestAnimationFrame);
  }
}"""
REMEMBER = """() => {
  window.shown = [];
  const look = () => document.querySelectorAll("header a[href='#/pending'], [role=status]").forEach((at) => {
    const text = at.textContent.trim();
    if (text && window.shown.at(-1) !== text) window.shown.push(text);
  });
  new MutationObserver(look).observe(document.body, { subtree: true, childList: true, characterData: true });
  look();
}"""


def plan_of(screen: Screen) -> Locator:
    """What she gets, on her own page, unfolded."""
    fold = screen.page.locator("main details", has=screen.page.get_by_role("heading", name=say("doe.plan"))).first
    fold.evaluate("(at) => { at.open = true; }")
    return fold


def records(screen: Screen) -> dict[str, str]:
    """Her records, from her own page that is open, {what: when and by whom}, without what was taken back."""
    screen.link(say("doe.last")).click()
    expect(screen.page.locator("li.record").first).to_be_visible()
    rows = screen.page.locator("li.record", has_not=screen.page.locator(".gone"))
    lines = rows.evaluate_all(
        "(rows) => rows.map((row) => [...row.firstElementChild.children].map((at) => at.innerText))"
    )
    screen.page.go_back()
    return {what: when for what, when, *_ in reversed(lines)}
