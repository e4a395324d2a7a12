"""Three people and a phone they share: invited, given a role, let in by a key, taken off again."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, BrowserContext, CDPSession, Page, expect

from tests.browser.barn import Barn, until
from tests.browser.measures import check, clipped, targets, too_wide
from tests.browser.places import DOORS, dress, owners, subject, visit
from tests.browser.screen import Screen
from tests.support.words import LANGUAGES, like, say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
SIZE = {"width": 360, "height": 740}
NARROWEST = {"width": 320, "height": 640}
GLOVE_PX = 60
OWNER = "Odette"
PASSWORD, NEXT = "lantern over the gate", "thaw before the river"
IPHONE = "Object.defineProperty(navigator, 'standalone', { value: false })"
KEY = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


@pytest.fixture
def phones(browser: Browser, barn: Barn) -> Iterator[Callable[..., Screen]]:
    """A phone nobody has signed in on."""
    made: list[BrowserContext] = []

    def one(*scripts: str) -> Screen:
        context = browser.new_context(viewport=SIZE, is_mobile=True, has_touch=True, locale="en-GB", timezone_id="UTC")
        made.append(context)
        for script in scripts:
            context.add_init_script(script)
        return Screen(context.new_page(), barn.server.url)

    yield one
    for context in made:
        context.close()


@pytest.fixture
def owner(phones: Callable[..., Screen], barn: Barn) -> Screen:
    return phones().sign_in(OWNER, barn.passwords[OWNER], "Tumblegate")


def invite(owner: Screen, role: str, whom: str) -> tuple[str, str]:
    """The link that is in the picture, and the code."""
    owner.open("farm", "people", "invite")
    owner.link(re.compile(f"^{say(f'role.{role}')}")).click()
    owner.page.get_by_label(say("invite.whom")).fill(whom)
    with owner.page.expect_response(
        lambda answer: answer.url.endswith("/invitations") and answer.status == 201
    ) as made:
        owner.button(say("invite.go")).click()
    owner.at(re.compile(whom))
    code = owner.page.locator(".secret").inner_text()
    return str(made.value.json()["link"]), "".join(code.split())


def make_account(screen: Screen, name: str, go: str) -> str:
    """Her printed code, once it is written down."""
    box = screen.page.get_by_label(say("new.name"), exact=True)
    box.fill(name)
    screen.page.get_by_label(say("new.password"), exact=True).fill(PASSWORD)
    screen.button(go).click()
    return write_down(screen)


def write_down(screen: Screen) -> str:
    expect(screen.heading(say("printed"))).to_be_visible()
    code = "-".join(screen.page.locator(".secret").inner_text().split())
    assert len(code.replace("-", "")) == 20
    assert [*too_wide(screen.page), *clipped(screen.page)] == []
    screen.button(say("printed.done")).click()
    return code


def with_key(screen: Screen) -> CDPSession:
    """A phone with a lock that opens a passkey."""
    session = screen.page.context.new_cdp_session(screen.page)
    session.send("WebAuthn.enable")
    session.send("WebAuthn.addVirtualAuthenticator", {"options": KEY})
    return session


def prove(screen: Screen, password: str) -> None:
    screen.page.locator("#proof").fill(password)
    screen.button(say("proof.go")).click()


def prove_if_asked(screen: Screen, password: str) -> None:
    """Not within five minutes of the last time."""
    asked = screen.button(say("proof.go"))
    expect(asked.or_(screen.page.get_by_text(say("keys.none"))).first).to_be_visible()
    if asked.count():
        prove(screen, password)


def test_one_comes_by_the_picture_and_finds_the_farm(barn: Barn, owner: Screen, phones: Callable[..., Screen]) -> None:
    link, _ = invite(owner, "helper", "Wilfa")
    picture = owner.page.locator("img.qr")
    expect(picture).to_be_visible()
    assert picture.evaluate("(at) => at.decode().then(() => at.naturalWidth > 0)")
    assert "#/join/" in link
    wilfa = phones()
    wilfa.page.goto(link)
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
    expect(first.chip).to_contain_text(like("status.locked"), timeout=20_000)


def test_a_passkey_opens_the_account_and_is_named_and_removed(barn: Barn, phones: Callable[..., Screen]) -> None:
    mirrin = phones().sign_in("Mirrin", barn.passwords["Mirrin"])
    with_key(mirrin)
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
    expect(lost.chip).to_contain_text(like("status.locked"), timeout=20_000)
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
    until(lambda: barn.refused() > 0, "her entry is kept for the owner")
    assert len(barn.log()) == before

    owner.open("farm", "people", "aside")
    mine = owner.page.locator("main li", has_text="Madder")
    expect(mine).to_contain_text("Bramble")
    mine.get_by_role("button", name=say("aside.let_in")).click()
    expect(mine).to_have_count(0)
    until(lambda: len(barn.log()) == before + 1, "it is let in")

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


@pytest.mark.parametrize(("theme", "language"), [(theme, one) for theme in ("day", "night") for one in LANGUAGES])
def test_what_an_owner_is_shown_is_readable_whole_and_large_enough(owner: Screen, theme: str, language: str) -> None:
    with speaking(language):
        dress(owner.page, theme)
        for name, address in owners().items():
            visit(owner, address)
            expect(owner.page.get_by_role("alert")).to_have_count(0)
            assert wrong(owner.page) == [], name
        owner.open("farm", "people", "invite", "helper")
        owner.button(say("invite.go")).click()
        expect(owner.page.locator("img.qr")).to_be_visible()
        assert wrong(owner.page) == [], "invitation"
        owner.open("farm", "people")
        owner.link(re.compile("^Jory")).click()
        expect(owner.button(re.compile(f"^{say('role.family')}"))).to_be_enabled()
        owner.page.get_by_text(say("member.remove", name="Jory"), exact=True).click()
        assert wrong(owner.page) == [], "member"


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_doors_are_readable_before_anybody_is_in(phones: Callable[..., Screen], language: str) -> None:
    screen = phones(f"localStorage.setItem('mangerline.language', '{language}')").open()
    with speaking(language):
        for door in DOORS:
            screen.open(door)
            expect(screen.page.get_by_role("heading", level=2).first).to_be_visible()
            assert wrong(screen.page) == [], door


def wrong(page: Page) -> list[str]:
    """On the usual phone and on the narrowest."""
    low = [str(one) for one in targets(page) if one["height"] < GLOVE_PX - 0.5]
    told = [*check(page).wrong, *low, *too_wide(page), *clipped(page)]
    page.set_viewport_size(NARROWEST)
    told += [f"narrow: {what}" for what in (*too_wide(page), *clipped(page))]
    page.set_viewport_size(SIZE)
    return told
