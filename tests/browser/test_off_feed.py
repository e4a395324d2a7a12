"""A doe that leaves her feed: one tap, what follows from it on every phone, and the way to the vet."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.places import subject
from tests.browser.rows import COUNT_TAPS, LEFT, row, tap
from tests.browser.screen import Screen
from tests.support.words import either, like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
BUZZ = "() => { window.buzz = []; navigator.vibrate = (how) => { window.buzz.push(how); return true; }; }"


def test_off_her_feed_from_the_tap_to_the_vets_page_without_a_server(barn: Barn, phone: Screen) -> None:
    page = phone.page
    barn.server.stop()
    phone.chores("evening")
    page.evaluate(COUNT_TAPS)
    row(phone, "Yarrow").get_by_role("button", name=re.compile("^Yarrow: ")).click()
    phone.page.get_by_role("dialog").get_by_role("button", name=say("ate.refused")).click()
    phone.at(like("off"))
    expect(page.get_by_text(like("off.what", name="Yarrow", how=say("how.refused")))).to_be_visible()
    expect(page.locator(".look-now .flag").first).to_have_text(either("off.flag.vet_today", "off.flag.vet_now"))
    expect(page.get_by_text(say("only_here", name="Odette"))).to_be_visible(timeout=30_000)
    ring = page.get_by_role("link", name=re.compile(say("only_here.call", name="Odette")))
    expect(ring).to_have_attribute("href", re.compile(r"^tel:\d+$"))
    expect(page.get_by_role("link", name=re.compile(say("call_vet")))).to_have_attribute("href", re.compile(r"^tel:"))
    expect(page.get_by_text(like("held.raises"))).to_be_visible()

    page.get_by_role("group", name=say("off.ask.new_feed")).get_by_role("button", name=say("yes"), exact=True).click()
    expect(page.get_by_text(say("off.then.new_feed"))).to_be_visible()
    page.get_by_role("group", name=say("off.check.cud")).get_by_role("button", name=say("off.seen.none")).click()
    warmth = page.get_by_role("group", name=say("f.temp_c_x10"))
    expect(warmth.get_by_role("button", name=like("off.save"))).to_have_count(0)
    warmth.get_by_role("button", name=say("off.step.1", label=say("f.temp_c_x10")), exact=True).click()
    warmth.get_by_role("button", name=like("off.save")).click()
    phone.link(say("vet.link")).click()
    phone.at(like("vet.title"))
    expect(page.locator("main")).to_contain_text(say("did.refused"))
    expect(page.locator("main")).to_contain_text("39 °C")
    assert page.locator("main").inner_text().count(say("vet.seen.cud.none")) == 1
    assert len(page.evaluate("() => window.taps")) == 7
    assert page.evaluate("() => window.keys") == 0


def test_bloat_takes_her_grain_out_and_somebody_who_plans_puts_it_back(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    phone.chores("evening")
    expect(row(phone, "Tansy").locator(".bowl")).not_to_have_count(0)
    tap(phone, f"{LEFT}: Tansy")
    phone.page.locator(".first-look").get_by_role("link", name=re.compile("Tansy")).click()
    tap(phone, say("off.suspect.bloat"))
    expect(phone.page.get_by_text(like("held.out"))).to_be_visible()
    phone.chores("evening")
    expect(row(phone, "Tansy").locator(".bowl")).to_have_count(0)
    phone.send_now()
    phone.all_sent()

    helper = another("Mirrin").doe("Tansy")
    expect(helper.page.get_by_text(like("held.out"))).to_be_visible()
    expect(helper.button(say("held.lift"))).to_have_count(0)
    phone.doe("Tansy")
    tap(phone, say("held.lift"))
    phone.chores("evening")
    expect(row(phone, "Tansy").locator(".bowl")).not_to_have_count(0)


def test_down_shows_no_amounts(phone: Screen) -> None:
    phone.chores("evening")
    expect(row(phone, "Mallow").locator(".bowl")).not_to_have_count(0)
    phone.ate("Mallow", "not_up")
    phone.at(like("off"))
    phone.page.locator("header .back").click()
    expect(row(phone, "Mallow")).to_be_in_viewport()
    phone.chores("evening")
    expect(row(phone, "Mallow").locator(".bowl")).to_have_count(0)
    expect(row(phone, "Mallow")).to_contain_text(say("doe.down"))
    phone.doe("Mallow")
    expect(phone.heading(say("doe.plan"))).to_have_count(0)


def test_the_recheck_clock_is_on_every_phone_and_nags_until_somebody_taps(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    # the case the demo opens with may be overdue itself by now, and would buzz
    phone.open("doe", subject(barn, "doe", "Marigold"), "off")
    tap(phone, say("off.result.eating"))
    phone.chores("evening")
    phone.ate("Wren", "refused")
    phone.send_now()
    phone.all_sent()

    mirrin = another("Mirrin")
    page = mirrin.page
    page.evaluate(BUZZ)
    mirrin.open()
    look = page.locator("nav").get_by_role("link", name=re.compile("Wren"))
    expect(look.first).to_contain_text(like("off.again"))
    assert page.evaluate("() => window.buzz") == []
    look.first.click()
    expect(page.get_by_text(like("off.on_it", who="Jory"))).to_be_visible()

    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(hours=13))
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    expect(page.get_by_text(like("off.look_over"))).to_be_visible()
    mirrin.open()
    nag = page.get_by_role("navigation", name=say("chores.look_now"))
    expect(nag).to_contain_text("Wren")
    expect(nag).to_contain_text(like("off.again.over"))
    until(lambda: len(page.evaluate("() => window.buzz")) > 0, "the phone to buzz")
    mirrin.open("does")
    expect(page.get_by_role("link", name=like("nag"))).to_contain_text("Wren")

    mirrin.open()
    page.clock.set_fixed_time(datetime.now(UTC))
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")
    look.first.click()
    tap(mirrin, say("off.result.eating"))
    expect(page.get_by_text(say("off.none", name="Wren"))).to_be_visible()
    mirrin.send_now()
    mirrin.all_sent()
    phone.send_now()
    phone.open()
    expect(phone.page.get_by_role("link", name=re.compile("Wren, "))).to_have_count(0)


def test_off_her_feed_among_the_signs_and_a_tight_side_lead_on(barn: Barn, phone: Screen) -> None:
    before, page = len(barn.log()), phone.page
    phone.form("Mallow", "signs")
    row = page.get_by_role("group", name=say("sign.off_feed"))
    row.get_by_role("button", name=say("signs.seen"), exact=True).click()
    phone.button(say("signs.save")).click()
    phone.at(like("off"))
    page.get_by_role("group", name=say("off.check.belly")).get_by_role("button", name=say("off.seen.tight")).click()
    expect(page.get_by_text(say("p.belly_vet", name="Mallow"))).to_be_visible()
    expect(page.get_by_text(like("held.out"))).to_be_visible()
    expect(phone.link(say("emergency.open.bloat"))).to_be_visible()
    phone.send_now()
    phone.all_sent()
    kinds = ["signs", "intake", "freeze", "checkup", "triage", "freeze"]
    assert [event["kind"] for event in barn.log()[before:]] == kinds


def test_how_much_is_a_second_tap_that_corrects_the_first(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    doe = subject(barn, "doe", "Juniper")
    phone.chores("evening")
    tap(phone, f"{LEFT}: Juniper")
    shares = row(phone, "Juniper").get_by_role("group", name=re.compile(say("ate.how_much").rstrip("?")))
    shares.get_by_role("button", name=say("ate.share.50")).click()
    expect(
        row(phone, "Juniper").get_by_role("button", name=re.compile(say("did.left_some", pm="50 %")))
    ).to_be_visible()
    phone.send_now()
    phone.all_sent()
    assert barn.added(before, "intake", "correct") == ["correct", "intake"]
    corrected = next(event for event in barn.log()[before:] if event["kind"] == "correct")
    assert (corrected["subject"], corrected["data"]["data"]["left_pct"]) == (doe, 50)


def test_one_undo_takes_the_tap_and_the_hold(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    phone.chores("evening")
    phone.ate("Fennel", "refused")
    expect(phone.page.get_by_text(like("held.raises"))).to_be_visible()
    phone.page.locator(".toast").get_by_role("button", name=say("undo")).click()
    expect(phone.page.get_by_text(like("held.raises"))).to_have_count(0)
    phone.send_now()
    phone.all_sent()
    assert barn.added(before, "freeze") == ["freeze"]
    voided = [event["data"]["of"] for event in barn.log()[before:] if event["kind"] == "void"]
    kinds = {event["id"]: event["kind"] for event in barn.log()}
    assert sorted(kinds[one] for one in voided) == ["freeze", "intake"]


def test_a_buck_is_watched_until_he_passes_water(phone: Screen) -> None:
    page = phone.page
    phone.chores("evening")
    phone.ate("Rafter", "slow")
    phone.at(like("off.buck"))
    expect(page.locator(".look-now")).to_contain_text(say("off.do.buck.some"))
    expect(page.get_by_role("group", name=say("f.bhb_x10"))).to_have_count(0)
    expect(page.get_by_role("group", name=say("off.check.udder"))).to_have_count(0)
    page.get_by_role("button", name=say("off.passes.stream"), exact=True).click()
    expect(page.locator(".told").first).to_contain_text(say("off.do.buck.stream"))
    page.get_by_role("button", name=say("off.passes.drips"), exact=True).click()
    expect(page.locator(".look-now .flag").first).to_have_text(say("off.flag.vet_now"))
    expect(phone.link(say("emergency.open.stones"))).to_be_visible()


def test_a_buck_that_strains_is_said_so_from_the_feeding_and_is_the_vets(phone: Screen) -> None:
    page = phone.page
    phone.chores("evening")
    phone.ate_sheet("Rafter")
    expect(page.get_by_role("dialog")).to_contain_text(
        say("ate.title.buck", name="Rafter", slot="").split(":")[1].strip()
    )
    page.get_by_role("button", name=say("ate.strains"), exact=True).click()
    phone.at(like("off.buck"))
    expect(page.locator(".look-now .flag").first).to_have_text(say("off.flag.vet_now"))
    expect(phone.link(say("emergency.open.stones"))).to_be_visible()


def test_odette_is_not_sent_to_tell_herself(barn: Barn, another: Callable[..., Screen]) -> None:
    odette = another("Odette", "Tumblegate")
    barn.server.stop()
    odette.chores("evening")
    odette.ate("Yarrow", "refused")
    expect(odette.page.get_by_text(say("only_phone"))).to_be_visible(timeout=30_000)
    expect(odette.page.get_by_text(say("only_here", name="Odette"))).to_have_count(0)


def test_whoever_closes_the_app_right_after_the_tap_finds_the_call_again(barn: Barn, phone: Screen) -> None:
    phone.chores("evening")
    row(phone, "Yarrow").get_by_role("button", name=re.compile("^Yarrow: ")).click()
    phone.page.get_by_role("dialog").get_by_role("button", name=say("ate.refused")).click()
    phone.at(like("off"))
    phone.page.reload()
    phone.at(like("off"))
    phone.page.evaluate("() => { location.hash = '#/'; }")
    said = phone.page.locator(".first-look").get_by_text(re.compile("vet.*Yarrow|Yarrow.*vet"))
    expect(said.first).to_be_visible(timeout=20_000)
