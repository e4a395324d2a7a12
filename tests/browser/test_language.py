"""The language is chosen at the door or under Farm, changes at once, with or without a server, and is kept."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.barn import Barn
from tests.browser.measures import check
from tests.browser.places import dress, subject, visit
from tests.browser.screen import Screen
from tests.support.words import say, speaking

pytestmark = pytest.mark.browser
LANG = "() => document.documentElement.lang"
SPANISH, ENGLISH = "Español", "English"


def test_chosen_at_the_door_and_kept(barn: Barn, page: Page) -> None:
    screen = Screen(page, barn.server.url).open()
    screen.button(SPANISH).click()
    with speaking("es"):
        expect(screen.button(say("sign.go"))).to_be_visible()
        expect(screen.button(SPANISH)).to_be_focused()
        expect(screen.button(SPANISH)).to_have_attribute("aria-pressed", "true")
        assert page.evaluate(LANG) == "es"
        assert check(page).wrong == []
        page.reload()
        expect(screen.button(say("sign.go"))).to_be_visible()
        screen.fill_in_sign_in("Jory", "not this one")
        expect(page.get_by_role("alert")).to_have_text(say("sign.wrong_password"))
        screen.sign_in("Jory", barn.passwords["Jory"])


def test_a_phone_in_spanish_begins_in_spanish(barn: Barn, browser: Browser, browser_context_args: Any) -> None:
    context = browser.new_context(**{**browser_context_args, "locale": "es-MX"})
    screen = Screen(context.new_page(), barn.server.url).open()
    with speaking("es"):
        expect(screen.button(say("sign.go"))).to_be_visible()
    context.close()


def test_it_changes_at_once_without_a_server_and_without_a_reload(barn: Barn, phone: Screen) -> None:
    page = phone.page
    barn.server.stop()
    page.evaluate("() => { window.same = true; }")
    visit(phone, "farm")
    phone.button(SPANISH).click()
    with speaking("es"):
        expect(phone.link(say("farm.rules"))).to_be_visible()
        assert page.evaluate(LANG) == "es"
        visit(phone, "emergency/toxemia")
        expect(phone.heading("Toxemia de la preñez")).to_be_visible()
        expect(page.get_by_text("Cetonas desde 0,8 mmol/L").first).to_be_visible()
        visit(phone, "farm/feeds")
        page.get_by_text(say("class.fat")).click()
        expect(page.get_by_text("Linaza entera")).to_be_visible()
        visit(phone, "farm")
        phone.button(ENGLISH).click()
    expect(phone.link(say("farm.rules"))).to_be_visible()
    assert page.evaluate("() => window.same")
    page.reload()
    expect(phone.link(say("farm.rules"))).to_be_visible()
    assert page.evaluate(LANG) == "en"


def test_a_farm_calls_a_flake_what_it_calls_it(barn: Barn, phone: Screen) -> None:
    page = phone.page
    with speaking("es"):
        dress(page, "day")
        visit(phone, f"pen/{subject(barn, 'pen', 'Straw barn')}/fed")
        expect(page.get_by_role("button", name=say("unit.flake")).first).to_be_visible()
        visit(phone, "farm")
        phone.button("pan").click()
        expect(phone.button("pan")).to_have_attribute("aria-pressed", "true")
        visit(phone, f"pen/{subject(barn, 'pen', 'Straw barn')}/fed")
        expect(page.get_by_role("button", name="panes").first).to_be_visible()
        page.reload()
        expect(page.get_by_role("button", name="panes").first).to_be_visible()
        visit(phone, "farm/lots")
        expect(page.get_by_text("Pese un pan de cada una")).to_be_visible()
        phone.send_now()
        phone.all_sent()
    assert barn.log()[-1]["data"]["f"] == {"flake_word": "pan"}
