"""A hay test: five lines of one column, read in plain words, and what it would change where the hay is fed."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
FIVE = {"received-dm": "88.5", "dry-cp": "9.8", "dry-tdn": "52", "dry-ca": "0.45", "dry-p": "0.22"}


def begin(phone: Screen, barn: Barn, lines: dict[str, str]) -> Screen:
    visit(phone, f"farm/lots/{subject(barn, 'lot', 'Meadow hay, July')}/lab")
    for line, figure in lines.items():
        phone.page.locator(f"#lab-{line}").fill(figure)
    return phone


def test_five_lines_come_first_and_say_what_hay_it_is_without_a_signal(phone: Screen, barn: Barn) -> None:
    phone.controlled()
    barn.server.freeze()
    begin(phone, barn, {})
    expect(phone.page.locator(".hay-line > input:visible")).to_have_count(5)
    begin(phone, barn, FIVE).button(say("lab.go")).click()
    read = phone.page.locator(".card", has_text=say("lab.read"))
    expect(read).to_contain_text(like("lab.like"))
    expect(read).to_contain_text(re.compile(like("lab.enough").pattern + ".*"))
    expect(read).to_contain_text(like("lab.short"))
    would = read.locator(".what-if")
    expect(would).to_have_attribute("aria-busy", "false")
    expect(would).to_contain_text(re.compile("Clover: .*"))
    barn.server.thaw()


def test_a_line_that_cannot_be_is_shown_and_what_was_typed_is_kept(phone: Screen, barn: Barn) -> None:
    begin(phone, barn, {**FIVE, "dry-cp": "140"}).button(say("lab.go")).click()
    expect(phone.page.locator("#lab-dry-cp")).to_have_attribute("aria-invalid", "true")
    phone.page.reload()
    expect(phone.page.locator("#lab-dry-cp")).to_have_value("140")
    phone.page.locator("#lab-column").select_option("received")
    expect(phone.page.locator("#lab-dry-cp")).to_be_hidden()
    phone.page.locator("#lab-received-cp").fill("8.7")
    phone.page.reload()
    expect(phone.page.locator("#lab-received-cp")).to_have_value("8.7")
    expect(phone.page.locator("#lab-column")).to_have_value("received")


def test_the_values_are_kept_with_the_lot(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    begin(phone, barn, FIVE).button(say("lab.go")).click()
    phone.button(say("lab.save")).click()
    phone.saved()
    phone.send_now()
    phone.all_sent()
    kept = [event["data"]["f"] for event in barn.log()[before:] if event["kind"] == "lot"][-1]
    assert (kept["tdn_pct_x10"], kept["cp_pct_x10"], kept["ca_pct_x100"]) == (520, 98, 45)
