"""A mark and a scan written down without a signal, what her dates go by on her page, and who is due, in order."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import today
from tests.browser.places import visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
# With the buck from thirty days ago to twelve.
NAME = "Fennel"


def ago(days: int) -> str:
    return (today() - timedelta(days=days)).isoformat()


def calendar(on: str) -> str:
    _, month, day = on.split("-")
    return say("date", date=int(day), month=say(f"month.{int(month)}"))


def fold_of(screen: Screen) -> Locator:
    screen.doe(NAME)
    fold = screen.page.locator("details.dates")
    expect(fold).to_be_visible()
    if fold.get_attribute("open") is None:
        fold.locator("summary").first.click()
    return fold


def choose(screen: Screen, label: str, option: str) -> None:
    group = screen.page.get_by_role("group", name=say(label), exact=True)
    group.get_by_text(say(option), exact=True).click()


def marked(screen: Screen, on: str) -> None:
    screen.form(NAME, "heat")
    choose(screen, "f.what", "o.heat.marked")
    screen.page.get_by_label(say("f.on"), exact=True).fill(on)
    screen.button(say("save")).click()
    screen.at(NAME)


def scanned(screen: Screen, along: int, on: str) -> None:
    screen.form(NAME, "preg_check")
    choose(screen, "f.result", "o.result.pregnant")
    screen.page.get_by_role("group", name=say("f.kids"), exact=True).get_by_text("2", exact=True).click()
    screen.page.get_by_label(re.compile(re.escape(say("f.aged_d")))).fill(str(along))
    screen.page.get_by_label(say("f.on"), exact=True).fill(on)
    screen.button(say("save")).click()
    screen.at(NAME)


def test_a_mark_and_a_scan_without_a_signal_narrow_her_window_on_the_other_phone(
    another: Callable[..., Screen],
) -> None:
    jory, mirrin = another("Jory").controlled(), another("Mirrin").controlled()
    before = _heard(mirrin)
    jory.page.context.set_offline(True)
    marked(jory, ago(22))
    scanned(jory, 21, ago(1))
    fold = fold_of(jory)
    for text in (r"The buck.s mark|Marca del macho", r"21 "):
        row = fold.locator("li.record", has_text=re.compile(text))
        expect(row).to_contain_text(say("dates.waits"))
    jory.page.context.set_offline(False)
    jory.send_now()
    jory.all_sent()
    after = _heard(mirrin, before)
    assert after != before
    rows = fold_of(mirrin).locator("li.record")
    expect(rows).to_have_count(3)
    expect(rows.first).not_to_contain_text(say("dates.waits"))


def _heard(screen: Screen, before: str = "") -> str:
    """The window in words at the head of the fold, once it is another than before."""
    for _ in range(30):
        screen.send_now()
        screen.doe(NAME)
        head = screen.page.locator("details.dates summary .small")
        said = head.inner_text() if head.count() else ""
        if said and said != before:
            return said
        screen.page.wait_for_timeout(1000)
    raise AssertionError("no other window came")


def test_a_mark_taken_back_counts_no_more(another: Callable[..., Screen]) -> None:
    screen = another("Jory")
    rows = fold_of(screen).locator("li.record")
    before = rows.count()
    marked(screen, ago(13))
    row = fold_of(screen).locator("li.record", has_text=calendar(ago(13)))
    expect(row).to_have_count(1)
    row.get_by_role("button").click()
    expect(fold_of(screen).locator("li.record")).to_have_count(before)


def test_buck_out_makes_the_time_with_him_longer_and_asks_nothing(another: Callable[..., Screen]) -> None:
    screen = another("Jory")
    before = fold_of(screen).locator("li.record").count()
    screen.form(NAME, "buck_out")
    screen.page.get_by_label(say("f.to_on"), exact=True).fill(ago(2))
    screen.button(say("save")).click()
    screen.at(NAME)
    expect(fold_of(screen).locator("li.record")).to_have_count(before + 1)
    visit(screen, "questions")
    expect(screen.page.get_by_role("main")).not_to_contain_text(NAME)


def test_who_is_due_stands_in_order_one_tap_from_does(another: Callable[..., Screen]) -> None:
    screen = another("Jory")
    visit(screen, "does")
    screen.link(say("due.title")).click()
    screen.at(say("due.title"))
    days = screen.page.locator(".due .days").all_inner_texts()
    assert len(days) > 3
    told = [signed(text) for text in days if text != "–"]
    assert told == sorted(told)
    screen.page.locator(".due li a").first.click()
    expect(screen.page.get_by_role("main").locator(".of-her")).to_be_visible()


def signed(text: str) -> int:
    n = int(re.sub(r"\D", "", text) or 0)
    return -n if re.search("past|pasada", text) else n


def test_does_due_within_a_month_are_one_tap_from_chores(another: Callable[..., Screen]) -> None:
    screen = another("Jory").open().unfold()
    screen.link(like("due.soon")).click()
    screen.at(say("due.title"))
