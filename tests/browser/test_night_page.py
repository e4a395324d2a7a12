"""A night of triplets, two phones without a signal: each kid in three taps, one dead, one cold, the dam; then the days
after, and the milk of all on one screen."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from playwright.sync_api import Locator, ViewportSize, expect

from tests.browser.barn import Barn
from tests.browser.measures import wrong
from tests.browser.rows import COUNT_TAPS
from tests.browser.screen import Screen
from tests.browser.test_two_hands import apart, together
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(400)]
PHONE: ViewportSize = {"width": 360, "height": 740}
MILK = re.compile(r"\d+ ?(ml|fl oz)")
MOST_TAPS = 25
Another = Callable[..., Screen]


def night(phone: Screen, name: str) -> None:
    phone.doe(name)
    phone.page.evaluate("() => { location.hash += '/night'; }")
    phone.at(like("night"))


def kid(phone: Screen, n: int) -> Locator:
    return phone.page.get_by_role("region", name=say("kids.kid", n=n), exact=True)


def answer(phone: Screen, n: int, key: str, value: str) -> None:
    phone.read()
    kid(phone, n).get_by_role("button", name=say(f"{key}.{value}"), exact=True).first.click()


def more(phone: Screen, n: int) -> None:
    phone.read()
    kid(phone, n).get_by_text(say("kids.line.more")).click()


def lost(phone: Screen, n: int) -> None:
    more(phone, n)
    phone.read()
    kid(phone, n).get_by_role("button", name=say("kids.lost"), exact=True).click()


def out(phone: Screen, n: int) -> None:
    phone.read()
    phone.button(say("off.labour.kid_out")).click()
    expect(kid(phone, n)).to_be_visible()


def taps(phone: Screen) -> int:
    return len(phone.page.evaluate("() => window.taps"))


def lines(phone: Screen) -> list[str]:
    """What is said of each kid, without the clock's words."""
    return [text.split("\n")[-1] for text in phone.page.locator(".kid .line .said").all_inner_texts()]


def records(barn: Barn, kind: str) -> list[dict[str, Any]]:
    return [event for event in barn.log() if event["kind"] == kind]


def test_a_night_of_triplets_on_two_phones_without_a_signal(
    barn: Barn, phone: Screen, another: Another, owner: Screen
) -> None:
    other = another("Mirrin").controlled()
    for one in (phone, other):
        one.page.set_viewport_size(PHONE)
        night(one, "Marigold")
    apart(phone, other)

    phone.button(say("off.labour.straining")).click()
    expect(phone.page.get_by_role("timer")).to_be_visible()
    assert wrong(phone.page) == []
    phone.page.evaluate(COUNT_TAPS)
    out(phone, 1)
    # as fast as they go: none of the three is taken for the second tap of a double one
    for word in ("kid.sex.doe", "kids.well"):
        kid(phone, 1).get_by_role("button", name=say(word), exact=True).first.click()
    assert taps(phone) == 3
    expect(kid(phone, 1)).to_contain_text(say("kids.line.warm"))

    out(phone, 2)
    lost(phone, 2)
    expect(kid(phone, 2)).to_contain_text(say("kids.line.dead"))

    out(phone, 3)
    answer(phone, 3, "kid.sex", "buck")
    more(phone, 3)
    answer(phone, 3, "kids.mouth", "cold")
    expect(kid(phone, 3)).to_contain_text(say("kids.no_milk"))
    expect(kid(phone, 3)).to_contain_text(like("kids.cold.young", h=5))
    assert MILK.search(kid(phone, 3).inner_text()) is None
    assert wrong(phone.page) == []
    answer(phone, 3, "kids.mouth", "warm")
    answer(phone, 3, "kids.swallows", "yes")
    expect(kid(phone, 3)).to_contain_text(MILK)
    answer(phone, 3, "kids.fed", "tubed")
    for word in (say("night.done", born=3, alive=2), say("afterbirth.passed"), say("dam.well")):
        phone.read()
        phone.button(word).click()
    expect(phone.page.get_by_text(say("night.written", born=3, alive=2))).to_be_visible()
    assert taps(phone) < MOST_TAPS
    assert wrong(phone.page) == []

    # the other phone has heard of nothing, and writes a kid down as well, cold
    other.button(say("off.labour.straining")).click()
    out(other, 1)
    answer(other, 1, "kid.sex", "doe")
    more(other, 1)
    answer(other, 1, "kids.mouth", "cold")

    together(phone, other)
    third = owner.controlled()
    third.page.set_viewport_size(PHONE)
    told = []
    for one in (phone, other, third):
        one.send_now()
        one.all_sent()
        night(one, "Marigold")
        expect(kid(one, 4)).to_be_visible()
        expect(kid(one, 5)).to_have_count(0)
        told.append(lines(one))
    assert told[0] == told[1] == told[2]
    assert len({event["subject"] for event in records(barn, "kid")}) == 4
    expect(other.button(say("night.done", born=4, alive=3))).to_be_visible()

    # one person says on one phone that two of the lines are of one kid
    assert wrong(third.page) == []
    third.button(say("kids.twice.one")).click()
    third.send_now()
    third.all_sent()
    for one in (third, phone, other):
        one.send_now()
        one.all_sent()
        night(one, "Marigold")
        expect(kid(one, 3)).to_be_visible()
        expect(kid(one, 4)).to_have_count(0)
        expect(one.button(say("kids.twice.one"))).to_have_count(0)
        expect(one.page.get_by_text(say("night.written", born=3, alive=2))).to_be_visible()


def test_two_phones_apart_tap_two_kids_and_both_stand(barn: Barn, phone: Screen, another: Another) -> None:
    other = another("Mirrin").controlled()
    for one in (phone, other):
        one.page.set_viewport_size(PHONE)
        night(one, "Hazel")
    apart(phone, other)
    out(phone, 1)
    answer(phone, 1, "kid.sex", "doe")
    phone.read()
    kid(phone, 1).get_by_role("button", name=say("kids.well"), exact=True).click()
    out(other, 1)
    answer(other, 1, "kid.sex", "buck")
    lost(other, 1)
    together(phone, other)
    for one in (phone, other):
        night(one, "Hazel")
        expect(kid(one, 2)).to_be_visible()
        said = sorted(lines(one))
        assert [say("kids.line.dead") in line for line in said] == [True, False]
        expect(one.button(say("night.done", born=2, alive=1))).to_be_visible()
    phone.button(say("kids.twice.two")).click()
    phone.send_now()
    phone.all_sent()
    other.send_now()
    other.all_sent()
    for one in (phone, other):
        night(one, "Hazel")
        expect(kid(one, 2)).to_be_visible()
        expect(one.button(say("kids.twice.two"))).to_have_count(0)


def at(phone: Screen, hours: float) -> None:
    phone.page.clock.set_fixed_time(datetime.now(UTC) + timedelta(hours=hours))
    phone.page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")


def test_a_cold_kid_nags_after_half_an_hour_and_its_card_goes_by_its_age(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    apart(phone)
    night(phone, "Juniper")
    out(phone, 1)
    more(phone, 1)
    answer(phone, 1, "kids.mouth", "cold")
    phone.read()
    kid(phone, 1).get_by_role("link", name=say("emergency.open.cold_kid")).click()
    expect(page.locator(".emergency .look-now").first).to_contain_text(say("kids.cold.young", h=5))
    at(phone, 0.6)
    expect(page.locator(".nag-bar").first).to_contain_text("Juniper")
    night(phone, "Juniper")
    at(phone, 6)
    expect(kid(phone, 1)).to_contain_text(say("kids.cold.old", h=5))
    assert MILK.search(page.locator("main").inner_text()) is None
    page.clock.set_fixed_time(datetime.now(UTC))


def test_no_second_feed_is_spoken_of_before_it_is_time_and_old_answers_are_not_todays(
    barn: Barn, phone: Screen
) -> None:
    apart(phone)
    night(phone, "Yarrow")
    out(phone, 1)
    more(phone, 1)
    for key, value in (("kids.mouth", "warm"), ("kids.swallows", "yes"), ("kids.fed", "bottle")):
        answer(phone, 1, key, value)
    expect(kid(phone, 1)).to_contain_text(say("kids.line.bottle", ml=""))
    assert MILK.search(kid(phone, 1).locator(".line").inner_text()) is None
    expect(kid(phone, 1).get_by_text(like("kids.feed.again"))).to_have_count(0)
    at(phone, 4)
    expect(kid(phone, 1).get_by_role("button", pressed=True)).to_have_count(0)
    for key, value in (("kids.mouth", "warm"), ("kids.swallows", "yes")):
        answer(phone, 1, key, value)
    expect(kid(phone, 1).get_by_text(like("kids.feed.again"))).to_be_visible()
    phone.page.clock.set_fixed_time(datetime.now(UTC))


@pytest.mark.parametrize("what", ["fever", "hay"])
def test_a_fever_or_hay_left_on_her_kids_page_holds_her_grain(barn: Barn, phone: Screen, what: str) -> None:
    page = phone.page
    apart(phone)
    night(phone, "Teasel")
    out(phone, 1)
    phone.read()
    page.get_by_text(say("dam.more")).click()
    phone.read()
    if what == "fever":
        group = page.get_by_role("group", name=say("dam.warmth"))
        for _ in range(4):
            group.get_by_role("button").nth(3).click()
        group.get_by_role("button").nth(4).click()
    else:
        phone.button(say("dam.ate.no.tap")).click()
    phone.doe("Teasel")
    expect(page.get_by_text(say("held.why.fever" if what == "fever" else "held.why.left"))).to_be_visible()


def test_kids_live_on_and_one_becomes_a_doe(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    apart(phone)
    night(phone, "Wren")
    out(phone, 1)
    answer(phone, 1, "kid.sex", "doe")
    phone.link(say("kids.all")).click()
    phone.at(say("kids.all"))
    assert wrong(page) == []
    page.get_by_role("link", name=re.compile(re.escape(say("kid.one", n=1, dam="Wren")))).click()
    for weight in ("3", "4.5"):
        page.get_by_text(say("kid.weigh"), exact=True).click()
        page.locator("#f-g").fill(weight)
        phone.button(say("save")).click()
        expect(page.locator("table.numbers")).to_contain_text(re.compile(weight.replace(".", "[.,]")))
    phone.button(say("kid.rears.bottle")).click()
    assert wrong(page) == []
    phone.link(say("kid.grow")).click()
    page.locator("#f-name").fill("Little Bracken")
    phone.button(say("kid.grow.save")).click()
    phone.at("Little Bracken")
    together(phone)
    grown = [event for event in records(barn, "doe") if event["data"]["f"].get("name") == "Little Bracken"]
    assert [event["data"]["f"]["sex"] for event in grown] == ["doe"]
    assert records(barn, "kid")[-1]["data"]["f"]["grown"] == grown[0]["subject"]


def test_the_milk_of_all_is_one_screen_and_a_field_each(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    before = len(records(barn, "milk"))
    phone.open("milk")
    phone.at(say("milk.round"))
    fields = page.locator(".milk-row input")
    expect(fields.first).to_be_visible()
    assert fields.count() > 2
    for n, weight in enumerate(("1.9", "2,25")):
        fields.nth(n).fill(weight)
        fields.nth(n).press("Enter")
        expect(fields.nth(n + 1)).to_be_focused()
    fields.nth(2).fill("much")
    fields.nth(2).press("Enter")
    expect(page.locator(".milk-row .err")).to_be_visible()
    assert wrong(page) == []
    fields.nth(2).fill("")
    fields.nth(0).fill("2")
    fields.nth(0).press("Enter")
    phone.send_now()
    phone.all_sent()
    assert [event["data"]["g"] for event in records(barn, "milk")[before:]] == [1_900, 2_250]
    assert [event["data"]["data"]["g"] for event in records(barn, "correct")][-1:] == [2_000]
