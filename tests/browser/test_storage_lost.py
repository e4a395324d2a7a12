"""A browser that takes the database away under the open app, or before the next start: never without a word."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(180)]
DOE = "Yarrow"

DELETE = """async () => {
  for (const { name } of await indexedDB.databases()) {
    if (!name.endsWith("/phone")) await new Promise((done) => {
      const request = indexedDB.deleteDatabase(name);
      request.onsuccess = request.onerror = request.onblocked = () => done();
    });
  }
}"""
# Chromium 156 never answers what is asked in the very moment of clearing: such a question is asked again.
WAITING = """() => Promise.race([new Promise((done) => setTimeout(() => done(-1), 2000)), (async () => {
  const found = [];
  let opens = false;
  for (const { name } of await indexedDB.databases()) {
    const phone = name === "mangerline/phone";
    if (!phone && (name.split("/").length !== 3 || name.includes("photos"))) continue;
    const db = await new Promise((done) => { const r = indexedDB.open(name); r.onsuccess = () => done(r.result); });
    const rows = await new Promise((done) => {
      const store = phone ? "meta" : "outbox";
      const r = db.transaction(store).objectStore(store).getAll(); r.onsuccess = () => done(r.result);
    });
    db.close();
    opens ||= rows.some(({ key, value }) => key === "last_use" && value.farm);
    found.push(...rows.filter(({ st }) => st === "waiting"));
  }
  return opens ? found.length : -2;
})()])"""


def by_page(screen: Screen) -> None:
    screen.page.evaluate(DELETE)


def by_browser(screen: Screen) -> None:
    """As when somebody clears the site's data while the app is open."""
    session = screen.page.context.new_cdp_session(screen.page)
    origin = screen.page.evaluate("() => location.origin")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb"})


@pytest.mark.parametrize("taken", [by_page, by_browser])
def test_what_waited_is_written_again_and_sent(barn: Barn, phone: Screen, taken: Callable[[Screen], None]) -> None:
    before = len(barn.log())
    barn.server.stop()
    phone.udder(DOE, 3)
    phone.saved()
    taken(phone)
    until(lambda: phone.page.evaluate(WAITING) == 1, "the entry to be in the new database")
    phone.page.reload()
    expect(phone.chip).to_have_text(say("status.waiting", n=1))
    barn.server.start()
    phone.page.reload()
    until(lambda: barn.added(before) == ["udder"], "the entry to be sent", 60)
    expect(phone.page.get_by_text(like("notice.lost.title"))).to_have_count(0)


def test_emptied_before_the_next_start_it_is_said_until_somebody_has_read_it(barn: Barn, phone: Screen) -> None:
    barn.server.stop()
    phone.udder(DOE, 3)
    phone.score(DOE, 3)
    phone.saved()
    origin = phone.page.evaluate("() => location.origin")
    session = phone.page.context.new_cdp_session(phone.page)
    phone.page.goto("about:blank")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb"})
    barn.server.start()
    phone.page.goto(origin)
    told = phone.page.get_by_role("alert").filter(has_text=say("notice.lost.title", n=2))
    expect(told).to_be_visible()
    expect(told).to_contain_text(f"{say('rec.udder')} (1)")
    phone.page.reload()
    expect(told).to_be_visible()
    told.get_by_role("button", name=say("notice.read")).click()
    expect(told).to_have_count(0)
    phone.page.reload()
    expect(phone.page.get_by_role("main")).to_be_visible()
    expect(told).to_have_count(0)
