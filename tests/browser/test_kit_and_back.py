"""Kidding supplies in the barn at night, and the years looked back at: both without a signal."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.barn import Barn
from tests.browser.measures import check, clipped, targets, too_wide
from tests.browser.places import dress, subject, visit
from tests.browser.screen import Screen
from tests.browser.two_phones import apart, together
from tests.browser.years_farm import OWNER, WORD, make_years
from tests.support.words import like, say

Another = Callable[..., Screen]
pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
GLOVE_PX, BARN_PX, READABLE = 60, 72, 4.5


def fits(page: Page) -> None:
    """Nothing cut off, nothing too small for a glove, nothing a screen reader stumbles over."""
    assert too_wide(page) == []
    assert clipped(page) == []
    found = check(page)
    assert found.wrong == []
    assert [at for ratio, at in found.contrasts if ratio < READABLE] == []


def thing(page: Page, name: str) -> str:
    return page.locator(".kit-thing", has_text=name).inner_text()


def test_supplies_are_listed_counted_and_used_without_a_server(phone: Screen, barn: Barn) -> None:
    barn.server.freeze()
    page, before = phone.page, 0
    visit(phone, "farm/kit")
    fits(page)
    phone.button(re.compile(r"^" + re.escape(say("kit.add_all", n=24)))).click()
    expect(page.get_by_text(say("kit.count_first"))).to_be_visible()
    phone.link(say("kit.count_all")).click()
    towels = page.get_by_role("group", name=say("kit.thing.towels"))
    for _ in range(3):
        towels.get_by_role("button").nth(1).click()
    page.get_by_role("group", name=say("kit.thing.lube")).get_by_role("button").nth(1).click()
    page.get_by_role("group", name=say("kit.thing.halter")).get_by_role("button").nth(2).click()
    fits(page)
    phone.button(re.compile(r"3")).click()
    visit(phone, "farm/kit")
    assert "3 of 12" in thing(page, say("kit.thing.towels"))
    said = page.locator(".kit-fetch").inner_text()
    assert f"{say('kit.thing.towels')} × 9" in said
    assert say("kit.thing.lube") not in said
    used = phone.button(say("kit.used_one", name=say("kit.thing.towels")))
    box = used.bounding_box()
    assert box
    assert box["height"] >= BARN_PX
    used.click()
    expect(page.locator(".kit-thing", has_text=say("kit.thing.towels"))).to_contain_text("2 of 12")
    phone.button(say("undo")).click()
    expect(page.locator(".kit-thing", has_text=say("kit.thing.towels"))).to_contain_text("3 of 12")
    assert min(height for _, height, _ in map(measured, targets(page))) >= GLOVE_PX - 1
    barn.server.thaw()
    expect(phone.chip).to_contain_text(like("status.sent"), timeout=60_000)
    assert len(barn.added(before, "kit")) >= 24 + 3
    assert barn.refused() == 0


def measured(target: dict[str, object]) -> tuple[str, float, float]:
    name, height, width = target["name"], target["height"], target["width"]
    assert isinstance(height, int | float)
    assert isinstance(width, int | float)
    return str(name), height, width


def test_used_is_a_tap_away_where_a_kidding_is_followed(phone: Screen, barn: Barn) -> None:
    page = phone.page
    visit(phone, f"doe/{subject(barn, 'doe', 'Hazel')}/kids")
    page.get_by_text(say("kit.used_tonight")).click()
    phone.button(say("kit.used_one", name=say("kit.thing.towels"))).click()
    visit(phone, "farm/kit")
    assert "2 of 12" in thing(page, say("kit.thing.towels"))


def test_two_phones_apart_each_use_one_and_both_count(barn: Barn, phone: Screen, another: Another) -> None:
    other = another("Mirrin").controlled()
    towels = say("kit.thing.towels")
    for one in (phone, other):
        visit(one, "farm/kit")
    held = int(thing(phone.page, towels).split(" of ")[0].split()[-1])
    apart(phone, other)
    for one in (phone, other):
        one.button(say("kit.used_one", name=towels)).click()
        expect(one.page.locator(".kit-thing", has_text=towels)).to_contain_text(f"{held - 1} of 12")
    together(phone, other)
    for one in (phone, other):
        visit(one, "farm/kit")
        expect(one.page.locator(".kit-thing", has_text=towels)).to_contain_text(f"{held - 2} of 12")


def test_what_is_out_of_date_is_said_at_the_top(phone: Screen, barn: Barn) -> None:
    page = phone.page
    visit(phone, "farm/kit")
    phone.link(re.compile(f"^{re.escape(say('kit.thing.lube'))}")).click()
    page.get_by_label(say("f.expires_on"), exact=True).fill("2024-01-31")
    page.get_by_label(say("f.place"), exact=True).fill("Milk room")
    phone.button(say("save")).click()
    expect(page.locator(".kit-fetch")).to_contain_text(say("kit.thing.lube"))
    expect(page.locator(".kit-thing", has_text=say("kit.thing.lube"))).to_contain_text("Milk room")
    page.emulate_media(media="print")
    assert too_wide(page) == []
    expect(phone.button(say("kit.print"))).to_be_hidden()


def test_the_years_are_read_without_a_server_and_say_what_the_entries_bear(barn: Barn, browser: Browser) -> None:
    make_years(barn)
    context = browser.new_context(viewport={"width": 360, "height": 740})
    phone = Screen(context.new_page(), barn.server.url).sign_in(OWNER, WORD).controlled()
    page = phone.page
    visit(phone, "back")
    expect(phone.heading(say("back.years"))).to_be_visible(timeout=90_000)
    barn.server.freeze()
    page.reload()
    visit(phone, "back")
    expect(page.get_by_text(say("back.told.none"))).to_be_visible()
    expect(page.get_by_role("region", name=say("back.signs"))).to_contain_text(say("back.sign.ligaments_gone"))
    for theme in ("day", "night"):
        dress(page, theme)
        visit(phone, "back")
        fits(page)
    page.get_by_role("link", name=re.compile("^Doe 5")).click()
    expect(phone.heading(re.compile(say("farm.back")))).to_be_visible()
    table = page.get_by_role("region", name=say("back.doe.table"))
    expect(table.get_by_role("row", name=re.compile(f"^{say('back.row.help')}"))).to_contain_text(say("back.help.2"))
    expect(page.locator(".columns svg circle.dead")).to_have_count(3)
    expect(page.locator(".columns svg rect.hay")).to_have_count(3)
    fits(page)
    page.emulate_media(media="print")
    assert too_wide(page) == []
    barn.server.thaw()
    context.close()
