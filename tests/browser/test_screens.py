"""Every screen, day and night: readable, tappable with a glove."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.barn import Barn
from tests.browser.lately import make_lately
from tests.browser.measures import GLOVE_PX, NARROWEST, Checked, check, targets, too_wide
from tests.browser.places import Walkers
from tests.browser.screen import Screen
from tests.browser.sitters import walkers
from tests.support.words import say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PHONE = (360, 740)
READABLE = 4.5


@pytest.fixture(scope="module")
def phones(browser: Browser, browser_context_args: dict[str, Any], demo_barn: Barn) -> Iterator[Walkers]:
    """Signed in once for all of this file: nothing here records anything but the days of a pack."""
    make_lately(demo_barn)
    made: list[BrowserContext] = []

    def new() -> BrowserContext:
        made.append(browser.new_context(**browser_context_args))
        return made[-1]

    yield walkers(demo_barn, new)
    for context in made:
        context.close()


# Colours do not hang on the language, nor words on the colours: each of the four is seen once, on half of the screens.
@pytest.mark.parametrize(("theme", "language", "half"), [("day", "en", 0), ("night", "es", 1)])
def test_screens_are_accessible_and_readable_and_tapped_with_a_glove(
    phones: Walkers, theme: str, language: str, half: int
) -> None:
    phones.size(*PHONE)
    found, tapped = {}, []
    with speaking(language):
        phones.dress(theme)
        for page, name in phones.walk(half):
            found[name] = check(page)
            tapped += [{**one, "on": name} for one in targets(page)]
    assert len(found) > 30
    assert len(tapped) > 200
    contrasts = sorted((ratio, name, at) for name, one in found.items() for ratio, at in one.contrasts)
    print(f"{theme}, {language}: {len(found)} screens, {len(contrasts)} texts; least contrast {contrasts[:3]}")
    assert {name: one.wrong for name, one in found.items() if one.wrong} == {}
    assert {name: one.unsure for name, one in found.items() if not_contrast(one)} == {}
    assert contrasts[0][0] >= READABLE
    print(f"{len(tapped)} targets; narrowest {min(tapped, key=lambda one: one['width'])}")
    assert [one for one in tapped if one["height"] < GLOVE_PX - 0.5] == []


def not_contrast(one: Checked) -> list[str]:
    """What axe leaves to people, other than contrast over a drawing."""
    return [said for said in one.unsure if not said.startswith("color-contrast")]


def test_the_sign_in_page_too(demo_barn: Barn, page: Page) -> None:
    screen = Screen(page, demo_barn.server.url).open()
    expect(screen.button(say("sign.go"))).to_be_visible()
    found = check(page)
    assert found.wrong == []
    assert [one for one in targets(page) if one["height"] < GLOVE_PX - 0.5] == []
    page.set_viewport_size(NARROWEST)
    assert too_wide(page) == []
