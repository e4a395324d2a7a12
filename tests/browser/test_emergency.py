"""Somebody stands in the barn at night, without a signal, beside a doe that is down."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn
from tests.browser.measures import check, targets, too_wide
from tests.browser.places import CARDS, dress, emergency, subject, visit
from tests.browser.screen import Screen
from tests.support.paths import ROOT
from tests.support.thorough import THOROUGH
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PHONES = [{"width": 360, "height": 740}, {"width": 390, "height": 844}]
NARROWEST = {"width": 320, "height": 640}
GLOVE_PX, BARN_PX, READABLE = 60, 72, 4.5
ARM_PX, HEAD_PX = 24, 30
TEXTS = json.loads((ROOT / "frontend/src/texts/cards.en.json").read_text())["cards"]
PARTS = ("signs", "first", "never", "call")
WATCH = "mangerline.pushing"
SIZES = """() => [...document.querySelectorAll(".said-list li > span, .emergency h2")].map((at) => {
  return [at.tagName, Number.parseFloat(getComputedStyle(at).fontSize)];
})"""


def nav(page: Page) -> None:
    page.locator("nav a[href='#/emergency']").click()


def card(page: Page, code: str) -> None:
    page.locator(f"a[href='#/emergency/{code}']").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(TEXTS[code]["name"])


def test_two_taps_from_every_main_screen_without_a_server(phone: Screen, barn: Barn) -> None:
    doe = subject(barn, "doe", "Marigold")
    page = phone.page
    barn.server.freeze()
    page.reload()
    for place in ("", "does", "farm", f"doe/{doe}", f"doe/{doe}/record", f"ration/{doe}", "pending", "farm/rules"):
        visit(phone, place)
        nav(page)
        card(page, "milk_fever")
        for part in PARTS:
            expect(phone.heading(say(f"emergency.{part}"))).to_be_visible()
        expect(page.locator(".said-list").get_by_text(TEXTS["milk_fever"]["first"][1]["t"])).to_be_visible()
        expect(page.get_by_text(say("emergency.gives_way"))).to_be_visible()


def test_every_card_is_whole_and_says_where_its_lines_come_from(phone: Screen) -> None:
    page = phone.page
    for code in CARDS:
        visit(phone, f"emergency/{code}")
        expect(page.get_by_role("heading", level=1)).to_have_text(TEXTS[code]["name"])
        expect(page.locator("main svg.drawing path")).not_to_have_count(0)
        lines = [TEXTS[code]["about"], *(line for part in PARTS for line in TEXTS[code][part])]
        page.get_by_text(say("emergency.sources")).click()
        expect(page.locator("details li")).to_have_count(len(lines))
        told = page.locator("details li").all_inner_texts()
        assert [text for text in told if re.search(r"undefined|\{c\d", text)] == []
        sizes = page.evaluate(SIZES)
        assert min(size for tag, size in sizes if tag == "SPAN") >= ARM_PX
        assert min(size for tag, size in sizes if tag == "H2") >= HEAD_PX


def test_temperatures_are_in_the_farms_own_unit(phone: Screen) -> None:
    visit(phone, "emergency/cold_kid")
    expect(phone.page.locator(".said-list").get_by_text("Under 39 °C: it needs warming.")).to_be_visible()


@pytest.mark.parametrize("theme", ["day", "night"] if THOROUGH else ["night"])
def test_the_screens_are_readable_and_tappable_with_a_glove(phone: Screen, barn: Barn, theme: str) -> None:
    page = phone.page
    dress(page, theme)
    wrong: dict[str, object] = {}
    for name, address in emergency(barn).items():
        for size in PHONES:
            page.set_viewport_size(size)
            visit(phone, address)
            found = check(page)
            low = [one for one in targets(page) if one["height"] < GLOVE_PX - 0.5]
            faint = [one for one in found.contrasts if one[0] < READABLE]
            if found.wrong or low or faint:
                wrong[f"{name} {size['width']}"] = [found.wrong, low, faint]
        page.set_viewport_size(NARROWEST)
        if wide := too_wide(page):
            wrong[f"{name} narrow"] = wide
    assert wrong == {}


def test_what_is_tapped_in_the_barn_is_larger_still(phone: Screen) -> None:
    for address in ("emergency", "emergency/hard_kidding"):
        visit(phone, address)
        barn = phone.page.locator("main .btn:not(.fit), main .card-row")
        heights = barn.evaluate_all("(all) => all.map((at) => at.getBoundingClientRect().height)")
        assert min(heights) >= BARN_PX


def test_the_vets_number_is_one_tap_and_the_vets_words_stand_on_the_card(phone: Screen, barn: Barn) -> None:
    page = phone.page
    barn.server.freeze()
    visit(phone, "farm/contacts/new")
    page.get_by_label(say("f.name"), exact=True).fill("A neighbour")
    page.get_by_label(say("f.phone")).fill("555 01-18")
    phone.button(say("save")).click()
    visit(phone, "emergency/mastitis")
    expect(page.get_by_text(say("told.no_product"))).to_be_visible()
    assert page.locator(".save a").get_attribute("href") == "tel:5550142"
    expect(page.locator("main a[href='tel:5550118']")).to_contain_text("A neighbour")
    phone.link(say("told.add")).click()
    page.get_by_label(say("f.told")).fill("Ring me first, any hour.")
    page.get_by_label(say("f.product")).fill("What I left with you")
    page.get_by_label(say("f.expires_on")).fill("2020-01-31")
    phone.button(say("save")).click()
    phone.at(TEXTS["mastitis"]["name"])
    expect(page.get_by_text(like("told.expired", product="What I left with you"))).to_be_visible()
    phone.saved()
    page.reload()
    expect(page.get_by_text("Ring me first, any hour.")).to_be_visible()


def test_the_vet_is_to_be_asked_as_soon_as_a_card_has_no_word_of_the_vet(phone: Screen) -> None:
    page = phone.page
    row = page.locator("a.ask-vet")
    phone.chores()
    expect(page.locator(".pen").first).to_be_visible()
    expect(row).to_have_count(0)
    visit(phone, "emergency/toxemia")
    phone.link(like("told.change")).first.click()
    page.get_by_text(say("f.gone"), exact=True).click()
    phone.button(say("save")).click()
    expect(page.get_by_text(like("told.none"))).to_be_visible()
    phone.chores()
    row.click()
    page.get_by_label(say("f.told")).fill("Ring me.")
    phone.button(say("save")).click()
    phone.at(TEXTS["toxemia"]["name"])
    phone.chores()
    expect(page.locator(".pen").first).to_be_visible()
    expect(row).to_have_count(0)


def test_the_watch_survives_and_says_when_half_an_hour_is_over(phone: Screen, barn: Barn) -> None:
    page, doe = phone.page, subject(barn, "doe", "Marigold")
    visit(phone, f"emergency/hard_kidding/{doe}")
    phone.button(say("watch.start")).click()
    phone.saved()
    started = page.evaluate(f"() => JSON.parse(localStorage.getItem('{WATCH}')).at")
    page.reload()
    expect(page.get_by_role("timer")).to_contain_text(re.compile(r"^0\d:\d\d$"))
    assert page.evaluate(f"() => JSON.parse(localStorage.getItem('{WATCH}')).at") == started
    phone.open()
    expect(page.locator("a.watch-bar")).to_contain_text(like("watch.bar", name="Marigold"))
    late = {"at": started - 30 * 60_000, "doe": doe}
    page.evaluate("([key, text]) => localStorage.setItem(key, text)", [WATCH, json.dumps(late)])
    page.reload()
    page.locator("a.watch-bar", has_text=like("watch.bar.over", name="Marigold", n=30)).click()
    expect(page.get_by_role("alert")).to_have_text(say("watch.over"))
    visit(phone, f"doe/{doe}/vet")
    expect(page.get_by_text(like("vet.pushing"))).to_be_visible()
    expect(page.get_by_text(say("r.signs", seen=say("sign.straining"))).first).to_be_visible()
    visit(phone, "emergency/hard_kidding")
    phone.button(say("watch.stop")).click()
    expect(page.locator("a.watch-bar")).to_have_count(0)
