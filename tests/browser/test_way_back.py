"""Every screen is a place: Back and the arrow lead to where somebody was, as she left it, and typed words stay."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn
from tests.browser.places import PAINTED, addresses, subject, visit
from tests.browser.screen import Screen
from tests.support.thorough import THOROUGH
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
HOME = "does"
# So many are left by the phone's own Back, the others by the arrow.
EVERY = 3
# Of the screens so many are left each day: the way back is one for all of them.
SHARE = 1 if THOROUGH else 3
HERE = "() => location.hash.replace('#/', '')"


def leave_the_list_half_way(phone: Screen) -> int:
    visit(phone, HOME)
    phone.page.evaluate("() => scrollTo(0, 400)")
    phone.page.wait_for_function("() => scrollY > 300")
    return int(phone.page.evaluate("() => scrollY"))


def is_where_she_was(page: Page, y: int) -> None:
    page.wait_for_function("() => location.hash === '#/does'")
    page.wait_for_function("(y) => Math.abs(scrollY - y) < 4", arg=y)


def test_back_and_the_arrow_lead_from_every_screen_to_where_she_was_on_the_list(barn: Barn, phone: Screen) -> None:
    page = phone.page
    visit(phone, HOME)
    # every doe has been judged, and what is overdue stands over the list
    expect(page.locator(".list .mark svg")).to_have_count(14)
    page.wait_for_timeout(1_000)
    for n, address in enumerate(addresses(barn).values()):
        if address in ("", HOME) or n % SHARE:
            continue
        y = leave_the_list_half_way(phone)
        visit(phone, address)
        assert page.evaluate("() => scrollY") == 0, address
        arrow = page.locator("header .back")
        if arrow.count() and (n // SHARE) % EVERY:
            arrow.click()
        else:
            page.go_back()
        is_where_she_was(page, y)


def test_back_takes_a_sheet_away_and_leaves_the_page(phone: Screen) -> None:
    phone.ate_sheet("Teasel")
    sheet = phone.page.get_by_role("dialog")
    expect(sheet).to_be_visible()
    phone.page.go_back()
    expect(sheet).to_be_hidden()
    expect(phone.heading(say("chores"))).to_be_visible()
    phone.ate_sheet("Teasel")
    sheet.get_by_role("button", name=say("ate.cancel")).click()
    expect(sheet).to_be_hidden()
    phone.ate_sheet("Teasel")
    sheet.get_by_role("link", name=say("ate.else")).click()
    phone.page.wait_for_function("() => location.hash.endsWith('/record')")
    phone.page.go_back()
    expect(phone.heading(say("chores"))).to_be_visible()
    expect(sheet).to_be_hidden()


def test_open_folds_stand_open_for_whoever_comes_back(barn: Barn, phone: Screen) -> None:
    visit(phone, f"doe/{subject(barn, 'doe', 'Teasel')}")
    fold = phone.page.locator("main details", has=phone.page.get_by_role("heading", name=say("doe.plan")))
    fold.locator("summary").first.click()
    fold.get_by_role("link", name=say("plan.set")).click()
    phone.page.wait_for_function("() => location.hash.startsWith('#/ration/')")
    phone.page.go_back()
    expect(fold).to_have_attribute("open", "")


def test_half_typed_words_outlast_a_tab_and_a_reload_and_go_once_they_are_saved(barn: Barn, phone: Screen) -> None:
    note = f"doe/{subject(barn, 'doe', 'Teasel')}/note"
    box = phone.page.locator("#f-text")
    visit(phone, note)
    box.fill("left hip a little")
    phone.link(say("nav.farm")).click()
    visit(phone, note)
    expect(box).to_have_value("left hip a little")
    phone.page.reload()
    expect(box).to_have_value("left hip a little")
    phone.button(say("save")).click()
    phone.saved()
    visit(phone, note)
    expect(box).to_have_value("")


@pytest.mark.parametrize("address", ["nowhere", "doe/%E0%A4%A", "doe/x/nothing", "farm/nothing"])
def test_an_address_that_leads_nowhere_says_so(phone: Screen, address: str) -> None:
    phone.page.goto(f"{phone.url}/#/{address}")
    phone.page.reload()
    expect(phone.page.get_by_role("heading", level=1)).to_be_visible()
    expect(phone.page.locator("main")).to_contain_text("." if "%" in address else say("not_found.why"))
    phone.page.evaluate(PAINTED)
