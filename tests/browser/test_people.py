"""Three people and a phone they share: invited, given a role, taken off again."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.left import left_of
from tests.browser.measures import SIZE
from tests.browser.people import (
    OWNER,
    invite,
    make_account,
    picture,
    prove,
)
from tests.browser.photographed import read_code
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.browser.sitters import day
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
IPHONE = "Object.defineProperty(navigator, 'standalone', { value: false })"


def test_one_comes_by_the_picture_and_finds_the_farm(barn: Barn, owner: Screen, phones: Callable[..., Screen]) -> None:
    link, _ = invite(owner, "helper", "Wilfa")
    code = owner.page.locator("img.qr")
    expect(code).to_be_visible()
    assert code.evaluate("(at) => at.decode().then(() => at.naturalWidth > 0)")
    code.scroll_into_view_if_needed()
    wilfa = phones()
    seen = read_code(owner.page, wilfa.page)
    assert (seen, "#/join/" in seen) == (link, True)
    wilfa.page.goto(seen)
    wilfa.at(re.compile(say("join.to", farm="Tumblegate")))
    expect(wilfa.page.get_by_text(say("role.helper.may"))).to_be_visible()
    expect(wilfa.page.get_by_label(say("new.name"), exact=True)).to_have_value("Wilfa")
    make_account(wilfa, "Wilfa", say("join.new"))
    wilfa.at(say("chores"))
    wilfa.all_sent()

    # The link was good for one.
    other = phones()
    other.page.goto(link)
    expect(other.page.get_by_text(say("acc.no_invitation"))).to_be_visible()


def test_another_types_the_code_however_she_likes_and_a_change_of_role_reaches_her_phone(
    barn: Barn, owner: Screen, phones: Callable[..., Screen]
) -> None:
    _, code = invite(owner, "helper", "Tansy")
    tansy = phones().open()
    tansy.link(say("join")).click()
    box = tansy.page.get_by_label(say("join.code"))
    box.fill("OIOI")
    expect(tansy.page.get_by_text(say("code.strange", letter="O"))).to_be_visible()
    box.fill("acde")
    tansy.button(say("join.look")).click()
    expect(tansy.page.get_by_text(say("join.code.short"))).to_be_visible()
    box.fill(f" {code[:3].lower()} {code[3:6]}-{code[6:].lower()} ")
    tansy.button(say("join.look")).click()
    make_account(tansy, "Tansy", say("join.new"))
    tansy.at(say("chores"))
    tansy.all_sent()
    tansy.open("farm", "people")
    expect(tansy.page.get_by_text(say("people.owner_only", owner=OWNER))).to_be_visible()
    expect(tansy.link(say("people.invite"))).to_have_count(0)
    tansy.open("farm", "contacts")
    expect(tansy.link(say("contacts.add"))).to_have_count(0)

    owner.open("farm", "people")
    owner.send_now()
    owner.all_sent()
    owner.open("farm", "people")
    owner.link(re.compile("^Tansy")).click()
    owner.button(re.compile(f"^{say('role.family')}")).click()
    expect(owner.button(re.compile(f"^{say('role.family')}"))).to_have_attribute("aria-pressed", "true")
    tansy.send_now()
    tansy.open("farm", "contacts")
    expect(tansy.link(say("contacts.add"))).to_be_visible()


def test_on_an_iphone_it_goes_on_the_home_screen_first(owner: Screen, phones: Callable[..., Screen]) -> None:
    link, _ = invite(owner, "family", "Yarrow")
    yarrow = phones(IPHONE)
    yarrow.page.goto(link)
    expect(yarrow.page.get_by_text(say("join.install"))).to_be_visible()
    expect(yarrow.page.get_by_text(say("install.share"))).to_be_visible()
    expect(yarrow.page.get_by_text(say("join.install.code", who=OWNER))).to_be_visible()
    yarrow.button(say("join.install.stay")).click()
    expect(yarrow.page.get_by_label(say("new.name"), exact=True)).to_have_value("Yarrow")


def test_an_adviser_is_shown_chosen_does_until_a_day(barn: Barn, owner: Screen, phones: Callable[..., Screen]) -> None:
    owner.open("farm", "people", "invite", "adviser")
    owner.button(say("invite.go")).click()
    expect(owner.page.get_by_role("alert")).to_contain_text(say("invite.does.none"))
    owner.page.get_by_label("Teasel", exact=True).check()
    owner.button(say("invite.go")).click()
    expect(owner.page.get_by_role("alert")).to_contain_text(say("invite.ends.wrong"))
    owner.page.get_by_label(say("invite.to.must")).fill("2099-05-01")
    owner.button(say("invite.go")).click()
    code = owner.page.locator(".secret").inner_text()
    avens = phones().open("join")
    avens.page.get_by_label(say("join.code")).fill(code)
    avens.button(say("join.look")).click()
    expect(avens.page.get_by_text(say("role.adviser.may"))).to_be_visible()
    make_account(avens, "Avens", say("join.new"))
    avens.at(say("chores"))
    avens.all_sent()
    avens.open("does")
    expect(avens.page.locator(f"main a[href='#/doe/{subject(barn, 'doe', 'Teasel')}']")).to_be_visible()
    expect(avens.page.get_by_text("Bramble", exact=True)).to_have_count(0)


def test_who_is_on_the_farm_is_given_a_last_day_and_her_phone_says_so(
    barn: Barn, owner: Screen, another: Callable[..., Screen]
) -> None:
    jory, last = another("Jory"), day(3)
    owner.open("farm", "people").link(re.compile("^Jory")).click()
    page, given = owner.page, re.compile(rf"\b{int(last[-2:])}\b")
    page.get_by_text(say("member.last_day"), exact=True).click()
    page.get_by_label(say("pack.to"), exact=True).fill(day(-1))
    owner.button(say("member.last_day.set")).click()
    fault = page.get_by_role("alert")
    expect(fault).to_have_text(say("invite.ends.wrong"))
    box, bar = fault.bounding_box(), page.locator("header.bar").bounding_box()
    assert box
    assert bar
    assert bar["y"] + bar["height"] <= box["y"] <= SIZE["height"], "it is said in sight of the tap"
    page.get_by_label(say("pack.to"), exact=True).fill(last)
    owner.button(say("member.last_day.set")).click()
    expect(page.locator("main p").first).to_contain_text(given)
    jory.send_now()
    visit(jory, "farm/me")
    expect(jory.page.get_by_text(like("me.until"))).to_contain_text(given)
    visit(jory, "farm/people")
    expect(jory.page.locator("li.fact", has_text="Jory")).to_contain_text(given)

    page.get_by_text(say("member.last_day.other"), exact=True).click()
    owner.button(say("member.last_day.off", name="Jory")).click()
    expect(page.get_by_text(say("member.last_day"), exact=True)).to_be_visible()
    jory.send_now()
    visit(jory, "farm/me")
    expect(jory.page.get_by_text(like("me.until"))).to_have_count(0)
    owner.open("farm", "people", "audit")
    expect(page.get_by_text(like("audit.last_day_set")).first).to_contain_text("Jory")


def test_an_invitation_is_taken_back(owner: Screen, phones: Callable[..., Screen]) -> None:
    link, code = invite(owner, "helper", "Clary")
    owner.button(say("invitation.renew")).click()
    expect(owner.page.locator(".secret")).not_to_have_text(re.compile(code[:4]))
    owner.page.get_by_text(say("invitation.revoke"), exact=True).click()
    owner.button(say("invitation.revoke.go")).click()
    owner.at(say("farm.people"))
    expect(owner.link(re.compile("^Clary"))).to_have_count(0)
    clary = phones()
    clary.page.goto(link)
    expect(clary.page.get_by_text(say("acc.no_invitation"))).to_be_visible()


def test_who_is_taken_off_is_told_and_what_she_sends_later_waits_for_the_owner(
    barn: Barn, owner: Screen, phones: Callable[..., Screen]
) -> None:
    link, _ = invite(owner, "helper", "Madder")
    madder = phones()
    madder.page.goto(link)
    make_account(madder, "Madder", say("join.new"))
    madder.at(say("chores"))
    madder.all_sent()
    madder.controlled()
    madder.page.context.set_offline(True)
    madder.udder("Bramble", 3)
    madder.score("Bramble", 2)
    visit(madder, f"doe/{subject(barn, 'doe', 'Bramble')}/pictures")
    with madder.page.expect_file_chooser() as chosen:
        madder.page.get_by_text(say("pictures.her"), exact=True).click()
    chosen.value.set_files(picture(90))
    expect(madder.page.get_by_role("img", name="Bramble")).to_be_visible()

    owner.send_now()
    owner.all_sent()
    owner.open("farm", "people")
    owner.link(re.compile("^Madder")).click()
    owner.page.get_by_text(say("member.remove", name="Madder"), exact=True).click()
    expect(owner.page.get_by_text(say("member.remove.phone", name="Madder"))).to_be_visible()
    owner.button(say("member.remove.go", name="Madder")).click()
    owner.at(say("farm.people"))

    before = len(barn.log())
    madder.page.context.set_offline(False)
    madder.send_now()
    until(lambda: barn.refused() == 3, "her entries are kept for the owner")
    assert len(barn.log()) == before
    told = madder.page.get_by_role("alert").filter(
        has_text=say("notice.removed.title", who="Madder", farm="Tumblegate")
    )
    expect(told).to_be_visible()
    expect(told.get_by_role("button", name=say("leave.file"))).to_have_count(0)
    [(farm,)] = barn.ask("SELECT id FROM herd_farm WHERE name = 'Tumblegate'")
    until(lambda: left_of(madder, farm, "Bramble") == [], "nothing of the farm is on her phone")

    owner.open("farm", "people", "aside")
    mine = owner.page.locator("main li", has_text="Madder")
    expect(mine).to_have_count(3)
    expect(mine.first).to_contain_text("Bramble")
    for what, key in (("rec.udder", "aside.let_in"), ("rec.score", "aside.leave"), ("rec.picture", "aside.let_in")):
        one = mine.filter(has_text=say(what))
        one.get_by_role("button", name=say(key)).click()
        expect(one).to_have_count(0)
    expect(owner.page.get_by_text(say("aside.none"))).to_be_visible()
    until(lambda: barn.added(before) == ["picture", "udder"], "they are let in")
    visit(owner, f"doe/{subject(barn, 'doe', 'Bramble')}/pictures")
    expect(owner.page.get_by_role("img", name="Bramble")).to_be_visible()

    owner.open("farm", "people", "audit")
    for line in (
        say("audit.joined", who="Madder", role=say("role.helper")),
        say("audit.removed", who=OWNER, whom="Madder"),
        say("audit.let_in.other", who=OWNER, whom="Madder"),
    ):
        expect(owner.page.locator("main li", has_text=line).first).to_be_visible()


def test_on_a_shared_phone_a_tap_is_no_proof_and_a_shown_password_is_kept_nowhere(barn: Barn, owner: Screen) -> None:
    owner.open("who")
    owner.page.get_by_text(say("who.else")).click()
    name = owner.page.get_by_label(say("sign.name"), exact=True)
    name.fill("Mirrin")
    owner.page.get_by_text(say("sign.show")).first.click()
    owner.page.get_by_label(say("sign.password"), exact=True).fill(barn.passwords["Mirrin"])
    assert barn.passwords["Mirrin"] not in owner.page.evaluate("() => JSON.stringify(localStorage)")
    owner.button(say("sign.go")).click()
    owner.at(say("chores"))
    owner.all_sent()
    owner.page.locator("header a[href='#/who']").click()
    owner.button(re.compile(f"^{OWNER}")).click()
    expect(owner.page.locator("header a[href='#/who']")).to_contain_text(OWNER)
    owner.send_now()
    owner.all_sent()
    owner.open("farm", "people", "invite", "family")
    owner.button(say("invite.go")).click()
    expect(owner.page.get_by_text(say("proof.what"))).to_be_visible()
    prove(owner, "not this one")
    expect(owner.page.get_by_role("alert")).to_be_visible()
    prove(owner, barn.passwords[OWNER])
    expect(owner.page.locator(".secret")).to_be_visible()


def test_without_a_signal_each_page_says_so(barn: Barn, owner: Screen) -> None:
    owner.controlled()
    barn.server.stop()
    for place in (("people", "audit"), ("people", "aside"), ("me", "places"), ("me", "keys"), ("people",)):
        owner.open("farm", *place)
        expect(owner.page.get_by_role("alert").first).to_contain_text(say("acc.no_answer"))
    expect(owner.page.get_by_text(f"{OWNER} ({say('you')})")).to_be_visible()
    barn.server.start()
