"""What was taken back can be put back, and nothing that made a doe or is another's is undone by a slip of the thumb."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(120)]


def record(phone: Screen, text: str) -> Locator:
    return phone.page.locator("li.record", has_text=text).first


def test_a_note_taken_back_is_put_back_from_the_bar_and_from_the_list(barn: Barn, phone: Screen) -> None:
    doe = subject(barn, "doe", "Teasel")
    visit(phone, f"doe/{doe}/note")
    phone.page.locator("#f-text").fill("limps a little")
    phone.button(say("save")).click()
    phone.saved()
    visit(phone, f"doe/{doe}/records")
    row = record(phone, "limps a little")
    row.get_by_role("button", name=like("undo.what")).click()
    expect(row).to_contain_text(like("last.taken_by", who=say("you")))
    phone.page.locator(".toast").get_by_role("button", name=say("put_back")).click()
    expect(row).not_to_contain_text(like("last.taken_by", who=say("you")))
    row.get_by_role("button", name=like("undo.what")).click()
    row.get_by_role("button", name=say("put_back")).click()
    expect(row).not_to_contain_text(like("last.taken_by", who=say("you")))
    expect(row.get_by_role("button", name=like("undo.what"))).to_be_visible()


def test_what_another_recorded_is_asked_about_and_what_made_her_has_no_undo(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    other = another("Mirrin")
    doe = subject(barn, "doe", "Sedge")
    visit(other, f"doe/{doe}/note")
    other.page.locator("#f-text").fill("was at the gate")
    other.button(say("save")).click()
    other.saved()
    other.send_now()
    other.all_sent()
    phone.send_now()
    visit(phone, f"doe/{doe}/records")
    row = record(phone, "was at the gate")
    expect(row).to_be_visible(timeout=20_000)
    expect(row.get_by_role("button", name=like("undo.what"))).to_have_count(0)
    row.locator("summary").click()
    expect(row).to_contain_text(like("last.correct.what", who="Mirrin"))
    row.get_by_role("button", name=say("last.take_back")).click()
    expect(row).to_contain_text(like("last.taken_by", who=say("you")))
    while (more := phone.button(say("last.more"))).count():
        more.click()
    made = phone.page.locator("li.record", has_text=say("f.name")).last
    expect(made.get_by_role("button")).to_have_count(0)
    expect(made.locator("summary")).to_have_count(0)


def test_a_pen_another_fed_has_no_undo_under_the_thumb_and_folds_away_again(phone: Screen) -> None:
    phone.open()
    phone.button(say("slot.morning")).click()
    pen = phone.page.locator("section.pen", has=phone.page.get_by_role("heading", name="Young pen"))
    expect(pen).to_contain_text("Odette")
    expect(pen.get_by_role("button", name=like("undo.what"))).to_have_count(0)
    name = pen.get_by_role("heading").get_by_role("button")
    name.click()
    expect(name).to_have_attribute("aria-expanded", "true")
    pen.locator("summary", has_text=say("last.correct")).click()
    expect(pen).to_contain_text(like("last.correct.what", who="Odette"))
    name.click()
    expect(name).to_have_attribute("aria-expanded", "false")
