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
OTHER = "Marigold"
BRED_D = 150


@pytest.fixture
def pair(another: Callable[..., Screen], barn: Barn) -> tuple[Screen, Screen]:
    two = another("Jory").controlled(), another("Mirrin").controlled()
    for screen in two:
        screen.page.set_viewport_size(PHONE)
    return two


def near(screen: Screen, name: str = HER) -> None:
    """She was bred so long ago that she may kid any day; her dates are back from the server."""
    screen.open("watch")
    expect(screen.button(say("watch.on.give"))).to_be_visible()
    if card(screen, name).count():
        return
    screen.form(name, "bred")
    on = (today() - timedelta(days=BRED_D)).isoformat()
    screen.page.get_by_label(say("f.bred_on"), exact=True).fill(on)
    screen.button(say("save")).click()
    screen.at(name)
    screen.send_now()
    screen.all_sent()
    screen.open("watch")
    expect(card(screen, name)).to_be_visible(timeout=60_000)


def picture(screen: Screen, name: str) -> None:
    if SHOTS:
        take(screen.page, Path(SHOTS) / f"{name}.png")


def card(screen: Screen, name: str = HER) -> Locator:
    return screen.page.get_by_role("region", name=name, exact=True)


def tap(screen: Screen, key: str, name: str = HER) -> None:
    card(screen, name).get_by_role("button", name=say(key), exact=True).click()


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
    expect(card(first)).not_to_contain_text(say("watch.chance.not", sign=say("watch.teats_strutted")))
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
    expect(card(first)).to_contain_text(say("watch.last", at="", who="Mirrin", what="").split(",")[1].strip())
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


def test_a_double_tap_writes_of_no_other_doe_and_her_card_stays_where_it_is(phone: Screen, barn: Barn) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    near(phone)
    phone.sign(OTHER, "ligaments_gone")
    phone.open("watch")
    expect(card(phone, OTHER)).to_be_visible()
    names = order(phone)
    assert names[0] == OTHER, "with signs first, by her dates after"
    before = card(phone).inner_text()
    same = card(phone, OTHER).get_by_role("button", name=say("watch.same"), exact=True)
    same.scroll_into_view_if_needed()
    box = same.bounding_box()
    assert box
    for _ in range(2):
        page.mouse.click(box["x"] + 100, box["y"] + 30)
        page.wait_for_timeout(350)
    expect(phone.toast).to_contain_text(OTHER)
    assert order(phone) == names
    assert card(phone).inner_text() == before
    expect(card(phone, OTHER)).to_contain_text(say("near.ligaments_gone"))
    picture(phone, "order")
    tap(phone, "watch.begun", OTHER)
    expect(card(phone, OTHER).get_by_role("button", name=say("off.labour.straining"), exact=True)).to_be_in_viewport()


def order(screen: Screen) -> list[str]:
    found: list[str] = screen.page.locator("section.watched").evaluate_all("all => all.map((one) => one.ariaLabel)")
    return found
