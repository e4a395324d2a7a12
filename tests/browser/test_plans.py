"""Dry-off, close-up and the grain after kidding, put in with one tap on a phone without a signal; off feed holds the
steps on that phone and, once they have met, on another, and eating frees them."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, ViewportSize, expect

from tests.browser.screen import Screen
from tests.browser.tapped_acts import PASSWORD, PERSON, plant
from tests.support.live import Server
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PHONE: ViewportSize = {"width": 360, "height": 740}
LEAST_PX = 60


@pytest.fixture(scope="module")
def planted(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    server = Server(tmp_path_factory.mktemp("plans"))
    plant(server, "tests.support.plan_farm")
    with server:
        yield server


def new_phone(browser: Browser, server: Server) -> Screen:
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, locale="en-GB")
    return Screen(context.new_page(), server.url).sign_in(PERSON, PASSWORD).controlled()


@pytest.fixture(scope="module")
def phone(planted: Server, browser: Browser) -> Iterator[Screen]:
    screen = new_phone(browser, planted)
    yield screen
    screen.page.context.close()


@pytest.fixture
def offline(planted: Server, phone: Screen) -> Iterator[Screen]:
    planted.freeze()
    yield phone
    planted.thaw()


def opened(screen: Screen, name: str, stretch: str) -> Screen:
    screen.chores()
    screen.doe(name)
    screen.link(say(f"stretch.{stretch}")).click()
    expect(screen.heading(like(f"stretch.{stretch}"))).to_be_visible()
    return screen


def put_in(screen: Screen) -> None:
    button = screen.button(say("act.put"))
    box = button.bounding_box()
    assert box
    assert box["height"] >= LEAST_PX
    button.click()
    screen.saved()
    expect(screen.heading(say("stretch.in.plan_dry"))).to_be_visible()


@pytest.mark.parametrize(("name", "stretch"), [("Fern", "dry"), ("Juniper", "close_up"), ("Olive", "fresh")])
def test_each_goes_in_with_one_tap_and_out_with_one_without_a_signal(offline: Screen, name: str, stretch: str) -> None:
    page = opened(offline, name, stretch).page
    steps = page.locator(".days").inner_text()
    put_in(offline)
    expect(page.locator(".adopted")).to_contain_text(say(f"act.plan_{stretch}"))
    assert page.locator(".days").count()
    offline.button(say("undo")).last.click()
    expect(page.locator(".adopted")).to_have_count(0)
    assert page.locator(".days").inner_text() == steps


def test_her_owners_day_moves_the_steps_and_another_way_its_milkings(offline: Screen) -> None:
    page = opened(offline, "Fern", "dry").page
    before = page.locator(".days").inner_text()
    offline.button(say("o.way.abrupt")).click()
    expect(page.locator(".days")).not_to_contain_text(say("dry.milk.once"))
    expect(page.get_by_text(say("dry.school.abrupt"))).to_be_visible()
    offline.button(say("o.way.gradual")).click()
    assert page.locator(".days").inner_text() == before
    assert "water" in page.locator("main").inner_text().lower()


def test_too_few_dry_days_are_the_owners_matter_with_both_sides(offline: Screen) -> None:
    main = opened(offline, "Hazel", "dry").page.locator("main")
    for side in ("stop", "on", "you"):
        expect(main).to_contain_text(say(f"dry.short.{side}"))


def test_a_hand_on_a_dry_udder_is_one_tap_and_cold_is_for_the_vet(offline: Screen) -> None:
    offline.chores()
    expect(offline.page.locator(".card.first-look")).to_contain_text(say("dry.feel.row"))
    offline.doe("Poppy")
    offline.button(say("dry.felt.soft")).click()
    offline.saved()
    expect(offline.page.get_by_text(say("dry.feel", name="Poppy"))).to_have_count(0)
    offline.button(say("undo")).last.click()
    offline.button(say("dry.felt.cold")).click()
    offline.at(re.compile("Mastitis", re.IGNORECASE))
    offline.chores()
    expect(offline.page.locator(".look-now.first-look")).to_contain_text("Poppy")


def test_off_feed_holds_the_steps_on_two_phones_and_its_end_frees_them(
    planted: Server, phone: Screen, browser: Browser
) -> None:
    opened(phone, "Juniper", "close_up")
    first = phone.page.locator(".days li").first.inner_text()
    put_in(phone)
    planted.freeze()
    phone.ate("Juniper", "refused")
    planted.thaw()
    phone.send_now()
    phone.all_sent()
    other = new_phone(browser, planted)
    for screen in (phone, other):
        opened(screen, "Juniper", "close_up")
        expect(screen.page.get_by_text(like("held.raises"))).to_be_visible()
        expect(screen.page.locator("main")).to_contain_text(say("held.why.left"))
        assert screen.page.locator(".days li").first.inner_text() != first
    other.button(say("held.lift")).click()
    other.saved()
    expect(other.page.get_by_text(like("held.raises"))).to_have_count(0)
    other.send_now()
    other.all_sent()
    phone.send_now()
    expect(phone.page.get_by_text(like("held.raises"))).to_have_count(0)
    other.page.context.close()


def test_soft_dung_is_one_tap_and_says_why_her_grain_waits(phone: Screen) -> None:
    opened(phone, "Olive", "fresh")
    phone.button(say("stretch.dung")).click()
    phone.saved()
    expect(phone.page.locator("main")).to_contain_text(say("held.why.dung"))
    expect(phone.button(say("stretch.dung"))).to_have_count(0)
