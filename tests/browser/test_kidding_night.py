"""Kidding night, without a signal: each kid in three taps, a cold one to its card, the afterbirth in one tap."""

from __future__ import annotations

import re
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Locator, ViewportSize, expect

from tests.browser.barn import Barn
from tests.browser.measures import targets, too_wide
from tests.browser.rows import COUNT_TAPS, tap
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PHONE: ViewportSize = {"width": 360, "height": 740}
GLOVE_PX = 60
MILK = re.compile(r"\d+ ?(ml|fl oz)")


def kid(phone: Screen, n: int) -> Locator:
    return phone.page.get_by_role("region", name=say("kids.kid", n=n), exact=True)


def told(phone: Screen, n: int, part: str, answer: str) -> None:
    asked = kid(phone, n).get_by_role("group", name=say(f"kids.{part}"), exact=True)
    asked.get_by_role("button", name=say(f"kids.{part}.{answer}"), exact=True).click()


def kidded(phone: Screen, name: str, ago: str) -> None:
    phone.form(name, "kidded")
    for field in ("f.born", "f.alive"):
        phone.page.get_by_role("group", name=say(field)).get_by_text("2", exact=True).click()
    phone.page.get_by_text(say(f"o.ago.{ago}"), exact=True).click()
    phone.button(say("save")).click()
    phone.at(like("kids"))


def test_a_cold_kid_gets_the_card_and_no_milk_and_a_warm_one_its_amount(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    barn.server.freeze()
    kidded(phone, "Yarrow", "5")
    assert MILK.search(page.locator("main").inner_text()) is None
    page.evaluate(COUNT_TAPS)
    told(phone, 1, "mouth", "warm")
    assert MILK.search(kid(phone, 1).inner_text()) is None
    told(phone, 1, "swallows", "yes")
    expect(kid(phone, 1)).to_contain_text(MILK)
    told(phone, 1, "fed", "sucked")
    assert len(page.evaluate("() => window.taps")) == 3

    told(phone, 2, "swallows", "yes")
    told(phone, 2, "mouth", "cold")
    expect(page.get_by_text(say("p.kid_cold", name="Yarrow", kids=2, n=1))).to_be_visible()
    expect(page.locator(".flag").first).to_have_text(say("look_now"))
    expect(kid(phone, 2)).to_contain_text(say("kids.no_milk"))
    assert MILK.search(kid(phone, 2).inner_text()) is None
    assert too_wide(page) == []
    assert [one for one in targets(page) if min(one["height"], one["width"]) < GLOVE_PX] == []
    kid(phone, 2).get_by_role("link", name=say("emergency.open.cold_kid")).click()
    expect(page).to_have_url(re.compile("emergency/cold_kid"))
    phone.open()
    look = page.get_by_role("navigation", name=say("chores.look_now"))
    expect(look).to_contain_text(say("p.kid_cold", name="Yarrow", kids=2, n=1))


def test_the_afterbirth_is_asked_after_by_the_clock_and_one_tap_ends_it(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    barn.server.freeze()
    kidded(phone, "Wren", "5")
    for n in (1, 2):
        kid(phone, n).get_by_role("button", name=say("kids.well"), exact=True).click()
    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(hours=2))
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.get_by_text(say("p.placenta_look", name="Wren"))).to_be_visible()
    tap(phone, say("afterbirth.hanging"))
    expect(page.get_by_text(say("p.placenta_look", name="Wren"))).to_have_count(0)
    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(hours=12))
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.get_by_text(say("p.placenta_vet", name="Wren"))).to_be_visible()
    page.get_by_text(say("basis")).first.click()
    expect(page.get_by_text(say("basis.afterbirth_twelve"))).to_be_visible()
    tap(phone, say("afterbirth.passed"))
    expect(page.get_by_text(say("p.placenta_vet", name="Wren"))).to_have_count(0)
    page.clock.set_fixed_time(datetime.now(UTC))


def test_a_bulge_behind_goes_from_the_sign_to_its_card(barn: Barn, phone: Screen) -> None:
    barn.server.freeze()
    phone.form("Mallow", "signs")
    row = phone.page.get_by_role("group", name=say("sign.prolapse"))
    row.get_by_role("button", name=say("signs.seen"), exact=True).click()
    phone.button(say("signs.save")).click()
    expect(phone.page).to_have_url(re.compile("emergency/prolapse"))
    phone.doe("Mallow")
    expect(phone.page.get_by_text(like("p.prolapse_vet", name="Mallow"))).to_be_visible()
