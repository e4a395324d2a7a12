"""A number is tapped in the barn: what makes it, and the reference behind it, without a server."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
# Every outlook on the phone without its record of what ran.
FORGET_CITES = """async () => {
  for (const { name } of await indexedDB.databases()) {
    const db = await new Promise((done) => (indexedDB.open(name).onsuccess = ({ target }) => done(target.result)));
    if (db.objectStoreNames.contains("outlooks")) {
      const tx = db.transaction("outlooks", "readwrite"), store = tx.objectStore("outlooks");
      store.getAll().onsuccess = ({ target }) => target.result.forEach((row) =>
        store.put({ ...row, text: JSON.stringify({ ...JSON.parse(row.text), cites: undefined }) }));
      await new Promise((done) => (tx.oncomplete = done));
    }
    db.close();
  }
}"""


def needs(page: Page) -> None:
    """What she needs, term by term, is behind one tap."""
    page.locator("summary", has_text=like("why.needs")).click()


def test_a_number_is_taken_apart_and_looked_up_without_a_server(phone: Screen, barn: Barn) -> None:
    page = phone.doe("Yarrow").page
    barn.server.freeze()
    page.reload()
    page.locator(".balances > summary").click()
    page.locator("a[href$='/why/me']").click()
    expect(phone.heading(re.compile(say("nutrient.me")))).to_be_visible()
    expect(page.locator(".share-bar")).to_be_visible()
    needs(page)
    page.locator("summary", has_text=say("why.term.maintenance")).click()
    expect(page.get_by_text("501.3 kJ").first).to_be_visible()
    expect(page.get_by_text("Seen in the source").first).to_be_visible()
    expect(page.get_by_text(like("why.share")).first).to_be_visible()
    page.get_by_role("link", name=say("ref.open")).first.click()
    phone.at(say("ref"))
    expect(page.get_by_text("Metabolizable energy requirements for maintenance").first).to_be_visible()


def test_the_reference_is_searched_without_a_server(phone: Screen, barn: Barn) -> None:
    barn.server.freeze()
    page = phone.open("reference").page
    page.get_by_label(say("ref.search")).fill("absorbed calcium milk")
    page.get_by_role("link", name="Absorbed calcium for milk").click()
    expect(page.get_by_text("1.25 milk")).to_be_visible()


def test_a_farm_that_sets_its_calcium_absorption_reads_its_own(phone: Screen, barn: Barn) -> None:
    page = phone.open("farm", "rules", "need").page
    page.get_by_label(say("choice.calcium_absorption_pm.300")).check()
    expect(page.get_by_text(say("rules.follows"))).to_be_visible()
    phone.button(say("save")).click()
    expect(phone.chip).to_contain_text(like("status.sent"))
    phone.doe("Yarrow")
    page.locator(".balances > summary").click()
    page.locator("a[href$='/why/ca']").click()
    needs(page)
    body = page.locator("details details", has_text=say("why.term.body"))
    body.locator("summary").click()
    rule = body.locator(".part", has_text=say("f.calcium_absorption_pm"))
    expect(rule).to_contain_text(say("choice.calcium_absorption_pm.300"), timeout=60_000)
    expect(rule).to_contain_text(say("why.own", standard=say("choice.calcium_absorption_pm.400")))
    expect(body.get_by_text("absorbed / absorption")).to_be_visible()


def test_an_outlook_without_a_record_cites_nothing(phone: Screen, barn: Barn) -> None:
    """As an older server compiled it: the amounts stand, and what they rest on is not guessed."""
    page = phone.doe("Yarrow").page
    page.evaluate(FORGET_CITES)
    barn.server.freeze()
    page.reload()
    page.locator(".balances > summary").click()
    page.locator("a[href$='/why/me']").click()
    needs(page)
    page.locator("summary", has_text=say("why.term.maintenance")).click()
    expect(page.get_by_text(say("why.cites.wait")).first).to_be_visible()
    expect(page.locator(".equation")).to_have_count(0)
