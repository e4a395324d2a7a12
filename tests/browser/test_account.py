"""One's own account on a phone: made, opened again, by a key, from another place."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.people import (
    NEXT,
    PASSWORD,
    invite,
    make_account,
    prove,
    prove_if_asked,
    with_key,
    write_down,
)
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]


def test_who_is_new_makes_a_farm_and_gets_in_again_by_the_printed_code(phones: Callable[..., Screen]) -> None:
    first = phones().open()
    first.link(say("new")).click()
    code = make_account(first, "Sorrel", say("new.go"))
    expect(first.page.get_by_label(say("farms.name"))).to_be_visible()
    first.page.get_by_label(say("farms.name")).fill("Sorrel's Hill")
    first.button(say("farms.create")).click()
    expect(first.page.get_by_role("heading", level=1)).to_be_visible()

    second = phones().open()
    second.link(say("forgot")).click()
    second.page.get_by_label(say("sign.name"), exact=True).fill("sorrel")
    second.page.get_by_label(say("forgot.code")).fill(code.lower().replace("-", " "))
    second.page.get_by_label(say("forgot.new"), exact=True).fill(NEXT)
    second.button(say("forgot.go")).click()
    expect(second.page.get_by_text(say("forgot.done"))).to_be_visible()
    assert write_down(second) != code
    second.at(say("chores"))
    # The phone of before has lost its place, and nothing else.
    first.send_now()
    expect(first.chip).to_contain_text(say("status.locked.none"), timeout=20_000)


def test_a_passkey_opens_the_account_and_is_named_and_removed(barn: Barn, phones: Callable[..., Screen]) -> None:
    mirrin = phones().sign_in("Mirrin", barn.passwords["Mirrin"])
    lock = with_key(mirrin)
    mirrin.open("farm", "me", "keys")
    mirrin.page.get_by_label(say("keys.name")).fill("Blue phone")
    mirrin.button(say("keys.add")).click()
    prove(mirrin, barn.passwords["Mirrin"])
    key = mirrin.page.locator("main li details summary")
    expect(key.filter(has_text="Blue phone")).to_be_visible()
    key.click()
    mirrin.page.get_by_label(say("keys.rename"), exact=True).fill("Old blue phone")
    mirrin.button(say("save")).click()
    expect(key.filter(has_text="Old blue phone")).to_be_visible()

    # On a phone that has never seen her, with no name and no password.
    fresh = phones().open()
    with_key(fresh, *lock.keys())
    fresh.button(say("key.sign_in")).click()
    fresh.at(say("chores"))
    fresh.all_sent()
    expect(fresh.page.locator("header a[href='#/who']")).to_contain_text("Mirrin")

    sign_out(mirrin)
    mirrin.button(say("key.sign_in")).click()
    mirrin.at(say("chores"))
    mirrin.all_sent()
    mirrin.open("farm", "me", "keys")
    key.click()
    mirrin.button(say("keys.remove")).click()
    prove_if_asked(mirrin, barn.passwords["Mirrin"])
    expect(mirrin.page.get_by_text(say("keys.none"))).to_be_visible()
    sign_out(mirrin)
    mirrin.button(say("key.sign_in")).click()
    expect(mirrin.page.get_by_role("alert")).to_be_visible()


def sign_out(screen: Screen) -> None:
    screen.open("farm", "leave")
    screen.button(say("leave.go")).click()
    expect(screen.button(say("sign.go"))).to_be_visible()


def test_with_both_asked_for_a_spare_code_stands_in_for_a_lost_key(barn: Barn, phones: Callable[..., Screen]) -> None:
    first = phones().open()
    first.link(say("new")).click()
    make_account(first, "Tarragon", say("new.go"))
    first.page.get_by_label(say("farms.name")).fill("Tarragon Bank")
    first.button(say("farms.create")).click()
    expect(first.page.locator("nav")).to_be_visible()
    with_key(first)
    first.open("farm", "me", "keys")
    first.button(say("keys.add")).click()
    prove(first, PASSWORD)
    first.page.get_by_text(say("step.off")).click()
    first.page.get_by_label(say("sign.password"), exact=True).fill(PASSWORD)
    first.button(say("step.turn_on")).click()
    spares = first.page.locator("section.card li")
    expect(spares.first).to_be_visible()
    spare = spares.first.inner_text()

    second = phones().open()
    second.fill_in_sign_in("Tarragon", PASSWORD)
    expect(second.heading(say("step.do"))).to_be_visible()
    second.page.get_by_text(say("step.lost")).click()
    second.page.get_by_label(say("step.spare")).fill(spare)
    second.button(say("step.spare.go")).click()
    expect(second.page.locator("nav")).to_be_visible()

    third = phones().open()
    third.fill_in_sign_in("Tarragon", PASSWORD)
    third.page.get_by_text(say("step.lost")).click()
    third.page.get_by_label(say("step.spare")).fill(spare)
    third.button(say("step.spare.go")).click()
    expect(third.page.get_by_role("alert")).to_be_visible()


def test_a_lost_phone_is_signed_out_from_another(barn: Barn, phones: Callable[..., Screen]) -> None:
    lost = phones().sign_in("Jory", barn.passwords["Jory"])
    here = phones().sign_in("Jory", barn.passwords["Jory"])
    here.open("farm", "me", "places")
    expect(here.page.get_by_text(like("places.here")).first).to_be_visible()
    here.button(like("places.end")).first.click()
    expect(here.button(like("places.end"))).to_have_count(0)
    lost.send_now()
    expect(lost.chip).to_contain_text(say("status.locked.none"), timeout=20_000)
    here.send_now()
    here.all_sent()


def test_password_pin_and_code_are_changed_by_whoever_knows_the_password(
    barn: Barn, owner: Screen, phones: Callable[..., Screen]
) -> None:
    link, _ = invite(owner, "helper", "Betony")
    betony = phones()
    betony.page.goto(link)
    first = make_account(betony, "Betony", say("join.new"))
    betony.at(say("chores"))
    betony.open("farm", "me", "password")
    betony.page.get_by_label(say("me.password.old"), exact=True).fill("not this one")
    betony.page.get_by_label(say("me.password.new"), exact=True).fill(NEXT)
    betony.button(say("me.password.go")).click()
    expect(betony.page.get_by_role("alert")).to_contain_text(say("acc.enter_current_password"))
    betony.page.get_by_label(say("me.password.old"), exact=True).fill(PASSWORD)
    betony.button(say("me.password.go")).click()
    expect(betony.page.get_by_text(say("me.password.done"))).to_be_visible()

    betony.open("farm", "me", "pin")
    betony.page.get_by_label(say("me.pin.new")).fill("12")
    betony.page.get_by_label(say("sign.password"), exact=True).fill(NEXT)
    betony.button(say("me.pin.go")).click()
    expect(betony.page.get_by_role("alert")).to_contain_text(say("me.pin.digits"))
    betony.page.get_by_label(say("me.pin.new")).fill("4711")
    betony.button(say("me.pin.go")).click()
    expect(betony.page.get_by_text(say("me.pin.has"))).to_be_visible()

    # On a phone she shares nobody goes on as her without it.
    betony.open("who")
    betony.page.get_by_text(say("who.else")).click()
    betony.fill_in_sign_in("Mirrin", barn.passwords["Mirrin"])
    on = betony.page.locator("header a[href='#/who']")
    expect(on).to_contain_text("Mirrin")
    betony.open("who")
    betony.button(re.compile("^Betony")).click()
    for digit in "4711":
        betony.button(digit).click()
    betony.button(say("pin.go")).click()
    expect(on).to_contain_text("Betony")

    betony.open("farm", "me", "code")
    betony.page.get_by_label(say("sign.password"), exact=True).fill(NEXT)
    betony.button(say("me.code.go")).click()
    expect(betony.page.locator(".secret")).to_be_visible()
    assert "-".join(betony.page.locator(".secret").inner_text().split()) != first
    betony.button(say("printed.kept")).click()
    betony.at(say("me"))
    betony.send_now()
    betony.all_sent()
