"""The first round: four cards over the real screen, by thumb or keys, gone at a tap, and back when asked for."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.barn import Barn, until
from tests.browser.measures import check, clipped, targets, too_wide
from tests.browser.places import dress, subject, visit
from tests.browser.screen import Screen
from tests.support.words import LANGUAGES, say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(180)]
CARDS = 4
GLOVE_PX = 60


@pytest.fixture
def newcomer(barn: Barn, page: Page) -> Screen:
    return Screen(page, barn.server.url, first_time=True).sign_in("Jory", barn.passwords["Jory"]).controlled()


def guide(screen: Screen) -> Locator:
    return screen.page.get_by_role("complementary", name=say("guide"))


def places(page: Page) -> dict[str, Any]:
    return dict(page.evaluate(PLACES))


def test_four_cards_by_keys_each_beside_what_it_speaks_of(newcomer: Screen) -> None:
    page = newcomer.page
    expect(guide(newcomer)).to_contain_text(say("guide.0"))
    newcomer.button(say("slot.morning")).click()
    newcomer.button(say("guide.go")).focus()
    for card in range(1, CARDS + 1):
        page.keyboard.press("Enter")
        expect(guide(newcomer)).to_contain_text(say("guide.of", n=card, of=CARDS))
        assert page.evaluate("() => document.activeElement.id") == "guide", "a reader goes on with the new card"
        found = check(page)
        assert found.wrong == []
        at = places(page)
        assert at["head"] <= at["top"], at
        assert at["bottom"] <= at["card"], f"card {card} lies over what it speaks of: {at}"
        newcomer.button(say("guide.next" if card < CARDS else "guide.done")).focus()
    page.keyboard.press("Enter")
    expect(guide(newcomer)).to_have_count(0)
    page.reload()
    expect(newcomer.heading(say("chores"))).to_be_visible()
    expect(guide(newcomer)).to_have_count(0)


def test_skipped_at_any_moment_and_shown_again_when_asked_for(newcomer: Screen) -> None:
    newcomer.button(say("guide.go")).click()
    newcomer.page.keyboard.press("Escape")
    expect(guide(newcomer)).to_have_count(0)
    visit(newcomer, "farm/about")
    newcomer.button(say("guide.again")).click()
    expect(guide(newcomer)).to_contain_text(say("guide.1"))
    newcomer.button(say("guide.stop")).click()
    expect(guide(newcomer)).to_have_count(0)


def test_it_is_never_in_the_way(barn: Barn, newcomer: Screen) -> None:
    """A doe in red, the emergency cards, how she ate: all there, and the card steps aside for them."""
    expect(newcomer.page.locator(".look-now").first).to_be_visible()
    newcomer.page.locator(".look-now").first.locator("a, button").first.click(trial=True)
    newcomer.link(say("nav.emergency")).click()
    expect(newcomer.heading(say("emergency"))).to_be_visible()
    expect(guide(newcomer)).to_have_count(0)
    newcomer.ate_sheet("Teasel")
    expect(newcomer.page.get_by_role("dialog")).to_be_visible()
    expect(guide(newcomer)).to_have_count(0)
    newcomer.page.keyboard.press("Escape")
    expect(guide(newcomer)).to_contain_text(say("guide.0"))
    visit(newcomer, f"doe/{subject(barn, 'doe', 'Marigold')}")
    expect(guide(newcomer)).to_have_count(0)


def test_what_lies_under_a_card_comes_out_above_it(newcomer: Screen) -> None:
    """By key to the last thing of the list, which also stands where a thumb can scroll no further."""
    newcomer.button(say("guide.go")).click()
    expect(newcomer.page.locator(".to-weigh")).to_be_visible()
    last = newcomer.page.locator("main :is(a, button, summary):visible").last
    last.focus()
    until(lambda: foot(last) <= top(guide(newcomer)), "the last of the list above the card")


def top(at: Locator) -> float:
    return float((at.bounding_box() or {"y": 0})["y"])


def foot(at: Locator) -> float:
    box = at.bounding_box()
    assert box
    return box["y"] + box["height"]


@pytest.mark.parametrize("language", LANGUAGES)
def test_it_holds_in_large_print_and_on_the_narrowest_phone(newcomer: Screen, language: str) -> None:
    page = newcomer.page
    with speaking(language):
        dress(page, "night")
        newcomer.button(say("guide.go")).click()
        assert [one for one in targets(page) if one["height"] < GLOVE_PX - 0.5] == []
        page.set_viewport_size({"width": 320, "height": 640})
        assert [*too_wide(page), *clipped(page)] == []
        page.set_viewport_size({"width": 360, "height": 740})
        page.evaluate("() => { document.documentElement.style.fontSize = '225%'; }")
        for card in range(1, CARDS + 1):
            expect(guide(newcomer)).to_contain_text(say("guide.of", n=card, of=CARDS))
            assert [*too_wide(page), *clipped(page)] == []
            newcomer.button(say("guide.next" if card < CARDS else "guide.done")).click()


PLACES = """() => {
  const box = (at) => document.querySelector(at).getBoundingClientRect();
  const of = box(".spoken-of");
  return { top: of.top, bottom: of.bottom, card: box(".guide").top, head: of.top < 80 ? 0 : box("header").bottom };
}"""
