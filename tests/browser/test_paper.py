"""What is printed of the year, from a phone and from a laptop, at night too: whole, black, no sheet without need."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from tests.browser.barn import Barn, today
from tests.browser.lately import make_lately
from tests.browser.measures import clipped, too_wide
from tests.browser.places import PAINTED, addresses, dress, visit
from tests.browser.screen import Screen
from tests.support.words import speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
# What is left of a sheet between margins of 12 mm, in CSS pixels.
SHEETS = {"A4": 703, "Letter": 725}
MARGIN = dict.fromkeys(("top", "bottom", "left", "right"), "12mm")
SCREENS = (ViewportSize(width=360, height=740), ViewportSize(width=1280, height=800))
# How many sheets each takes at most on this farm, upright; a month and the year lie on their side.
PLACES = {"due": 1, "farm kit": 1, "back": 2, "doe back": 1, "watch": 1, "year ": 2, "does": 2, "pack print": 1}
ON_ITS_SIDE = ("year calendar", "year glance")


@pytest.fixture(scope="module")
def phone(browser: Browser, browser_context_args: dict[str, Any], demo_barn: Barn) -> Screen:
    make_lately(demo_barn)
    page = browser.new_context(**browser_context_args).new_page()
    return Screen(page, demo_barn.server.url).sign_in("Jory", demo_barn.passwords["Jory"])


def sheets(page: Page, paper: str, side: bool) -> int:
    (count,) = re.findall(
        rb"/Type /Pages\s*/Count (\d+)",
        page.pdf(format=paper, margin=MARGIN, landscape=side, prefer_css_page_size=False),
    )
    return int(count)


@pytest.mark.parametrize("language", ["en", "es"])
def test_nothing_is_cut_off_on_paper_and_nothing_is_coloured(phone: Screen, demo_barn: Barn, language: str) -> None:
    page, at = phone.page, addresses(demo_barn)
    at["year calendar"] = f"year/calendar/{today():%Y-%m}"
    with speaking(language):
        dress(page, "night")
        visit(phone, "due")
        expect(page.locator(".due .range")).to_have_count(15)
        for size in SCREENS:
            for name in (*PLACES, *ON_ITS_SIDE):
                page.set_viewport_size(size)
                visit(phone, at[name])
                side = name in ON_ITS_SIDE
                for paper, wide in SHEETS.items():
                    assert sheets(page, paper, side) <= PLACES.get(name, 1), (name, paper, size)
                    page.emulate_media(media="print")
                    page.set_viewport_size({"width": wide, "height": 990})
                    page.evaluate(PAINTED)
                    assert [*too_wide(page), *clipped(page), *page.evaluate(CUT)] == [], (name, paper, size)
                    assert page.evaluate(COLOURED) == [], (name, paper, size)
                    page.emulate_media(media="null")
                    page.set_viewport_size(size)


@pytest.mark.parametrize("place", ["due", "does"])
def test_a_table_is_printed_as_the_table_it_is(phone: Screen, place: str) -> None:
    """A sheet is narrower than a laptop, and the list of a phone would come instead."""
    page = phone.page
    page.set_viewport_size(SCREENS[1])
    visit(phone, place)
    expect(page.locator("table.herd")).to_be_visible()
    page.emulate_media(media="print")
    page.set_viewport_size({"width": SHEETS["A4"], "height": 990})
    page.evaluate(PAINTED)
    expect(page.locator("table.herd")).to_be_visible()
    page.emulate_media(media="null")
    page.evaluate(PAINTED)
    page.set_viewport_size(SCREENS[0])
    expect(page.locator("table.herd")).to_have_count(0)


# Drawings and tables that reach past the box they stand in.
CUT = """() => [...document.querySelectorAll("main svg, main table")].filter((at) => {
  const [own, box] = [at, at.parentElement].map((one) => one.getBoundingClientRect());
  return at.checkVisibility() && own.width > 0 && own.right > box.right + 1;
}).map((at) => `${at.tagName} past the edge`)"""

COLOURED = """() => {
  const grey = (colour) => {
    const [r, g, b, a = 1] = (colour.match(/[\\d.]+/g) ?? [0, 0, 0]).map(Number);
    return a === 0 || (r === g && g === b);
  };
  const shown = [...document.querySelectorAll("main *, header *")].filter((at) => at.checkVisibility());
  const said = shown.flatMap((at) => {
    const style = getComputedStyle(at);
    const drawn = at instanceof SVGElement ? [style.fill, style.stroke].filter((one) => one.startsWith("rgb")) : [];
    const borders = parseFloat(style.borderTopWidth) ? [style.borderTopColor] : [];
    return [style.color, ...drawn, ...borders].filter((one) => !grey(one)).map((one) => `${at.tagName} ${one}`);
  });
  return [...new Set(said)].slice(0, 5);
}"""
