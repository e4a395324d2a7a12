"""The watch near kidding on two phones without a signal: looks in few taps, the chance behind one, a hand-over."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Locator, ViewportSize, expect

from tests.browser.barn import Barn, today
from tests.browser.measures import targets, too_wide
from tests.browser.pictures import take
from tests.browser.screen import Screen
from tests.browser.two_phones import apart, together
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
PHONE: ViewportSize = {"width": 360, "height": 740}
GLOVE_PX = 60
SHOTS = os.environ.get("MANGERLINE_WATCH_PICTURES", "")
HER = "Sedge"
BRED_D = 150


@pytest.fixture
def pair(another: Callable[..., Screen], barn: Barn) -> tuple[Screen, Screen]:
    two = another("Jory").controlled(), another("Mirrin").controlled()
    for screen in two:
        screen.page.set_viewport_size(PHONE)
    return two


def near(screen: Screen) -> None:
    """She was bred so long ago that she may kid any day; her dates are back from the server."""
    screen.open("watch")
    expect(screen.button(say("watch.on.give"))).to_be_visible()
    if card(screen).count():
        return
    screen.form(HER, "bred")
    on = (today() - timedelta(days=BRED_D)).isoformat()
    screen.page.get_by_label(say("f.bred_on"), exact=True).fill(on)
    screen.button(say("save")).click()
    screen.at(HER)
    screen.send_now()
    screen.all_sent()
    screen.open("watch")
    expect(card(screen)).to_be_visible(timeout=60_000)


def picture(screen: Screen, name: str) -> None:
    if SHOTS:
        take(screen.page, Path(SHOTS) / f"{name}.png")


def card(screen: Screen, name: str = HER) -> Locator:
    return screen.page.get_by_role("region", name=name, exact=True)


def tap(screen: Screen, key: str) -> None:
    card(screen).get_by_role("button", name=say(key), exact=True).click()


def test_looks_of_two_and_a_hand_over_meet_when_there_is_a_signal(pair: tuple[Screen, Screen]) -> None:
    first, second = pair
    near(first)
    second.send_now()
    second.open("watch")
    expect(card(second)).to_be_visible(timeout=60_000)
    apart(*pair)
    first.open("watch")
    picture(first, "before")
    tap(first, "watch.felt")
    tap(first, "watch.same")
    expect(card(first)).to_contain_text(say("rest.watch.today") if not is_night(first) else say("rest.watch.tonight"))
    expect(card(first)).to_contain_text(say("you"))
    card(first).get_by_text(say("watch.chance"), exact=True).click()
    expect(card(first)).to_contain_text(say("watch.chance.from"))
    expect(card(first)).to_contain_text(say("watch.chance.not", sign=say("watch.ligaments_gone")))
    picture(first, "chance")
    assert too_wide(first.page) == []
    assert [one for one in targets(first.page) if min(one["height"], one["width"]) < GLOVE_PX] == []
    first.page.get_by_role("button", name="Mirrin", exact=True).click()
    first.page.get_by_label(say("watch.on.word")).fill("Sedge quiet, hay is in")
    first.button(say("watch.on.give")).click()
    expect(first.heading(say("watch.on", who="Mirrin"))).to_be_visible()

    second.open("watch")
    tap(second, "watch.ligaments_gone")
    expect(card(second)).to_contain_text(like("rest.watch.signs"))
    together(*pair)
    second.open("watch")
    expect(second.heading(say("watch.on", who=say("you")))).to_be_visible()
    expect(second.page.get_by_text("Sedge quiet, hay is in").first).to_be_visible()
    first.open("watch")
    expect(card(first)).to_contain_text(say("watch.last", at="", who="Mirrin").split(",")[1].strip())
    picture(first, "signs")


def is_night(screen: Screen) -> bool:
    hour = int(screen.page.evaluate("() => new Date().getUTCHours()"))
    return hour >= 16 or hour < 5


def test_a_look_that_was_not_made_is_said_there_and_on_chores(phone: Screen, barn: Barn) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    near(phone)
    barn.server.freeze()
    tap(phone, "watch.same")
    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(hours=7))
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    expect(card(phone)).to_contain_text(say("watch.missed", at="").strip())
    picture(phone, "missed")
    phone.open()
    expect(page.get_by_role("link", name=like("watch.open.due", names=HER))).to_be_visible()
    picture(phone, "chores")
