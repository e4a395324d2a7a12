"""A day without signal: the server's process is ended, so its port answers nothing, and the app opens all the same."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn, until
from tests.browser.chromium_process import Handset
from tests.browser.screen import Screen, records
from tests.support.words import like, say

pytestmark = pytest.mark.browser
# A meal refused this near to kidding holds her grain in the same tap.
LOOKS = {"intake", "freeze", "udder", "score", "signs", "dried_off"}
DOE = "Teasel"
UDDER = say("r.udder", fill=say("udder.fill.2"), uneven="")
# Another page of hers has the right to send, until it is told to let go.
HOLD = """async () => {
  const databases = (await indexedDB.databases()).map(({ name }) => name.split("/"));
  const [, person, farm] = databases.find((parts) => parts.length === 3 && !parts[2].includes("photos"));
  return new Promise((held) => navigator.locks.request(`mangerline/send/${person}/${farm}`, () => {
    held();
    return new Promise((let_go) => (window.letGo = let_go));
  }));
}"""


def four_looks(screen: Screen) -> None:
    screen.ate(DOE, "refused")
    screen.saved()
    screen.at(like("off"))
    screen.chores()
    expect(screen.button(f"{DOE}: {say('did.refused')}")).to_be_visible()
    expect(screen.page.get_by_text(re.compile(f"(now|today|vet): {DOE} ")).first).to_be_visible()
    screen.udder(DOE, 2)
    screen.score(DOE, 2)
    expect(screen.page.get_by_text(re.compile(r"^2(\.0+)?, .* by you$")).first).to_be_visible()
    screen.sign(DOE, "ligaments_soft")
    screen.saved()


def dry_off(screen: Screen, name: str) -> None:
    screen.form(name, "dried_off").button(say("save")).click()
    screen.at(name)


def has_them_all(screen: Screen) -> None:
    screen.doe(DOE)
    signs = say("r.signs", seen=say("sign.ligaments_soft"))
    refused = f"{say('did.refused')}, {say('slot.morning')}"
    assert {refused, UDDER, "Condition 2.0", signs} <= set(records(screen))


@pytest.mark.timeout(120)
def test_what_is_recorded_without_a_server_survives_and_arrives_once(
    barn: Barn, handset: Handset, another: Callable[..., Screen]
) -> None:
    screen = Screen(handset.switch_on(), barn.server.url)
    screen.sign_in("Odette", barn.passwords["Odette"], farm="Tumblegate").controlled()
    before = len(barn.log())

    barn.server.stop()
    assert not barn.server.answers()
    screen.page.close()
    assert handset.context
    screen = Screen(handset.context.new_page(), barn.server.url).open()
    four_looks(screen)
    screen.doe("Juniper")
    expect(screen.page.get_by_text(say("phase.3"), exact=True)).to_be_visible()
    dry_off(screen, "Juniper")
    expect(screen.page.get_by_text(say("phase.5"), exact=True)).to_be_visible()
    # What is shown may still be on its way to storage; what is called saved is there.
    screen.saved()
    expect(screen.chip).to_have_text(say("status.waiting", n=len(LOOKS)))

    handset.battery_out()
    screen = Screen(handset.switch_on(), barn.server.url).open()
    has_them_all(screen)
    expect(screen.chip).to_have_text(say("status.waiting", n=len(LOOKS)))

    barn.server.start()
    screen.send_now()
    # Chromium writes cookies every half minute, so the battery may have taken the sign-in with it, and nothing else.
    screen.sign_in_again_if_asked("Odette", barn.passwords["Odette"])
    screen.all_sent()
    assert barn.added(before) == sorted(LOOKS)
    assert barn.refused() == 0

    jory = another("Jory")
    has_them_all(jory)
    assert re.fullmatch(r"\d\d:\d\d, Odette", records(jory)[UDDER])
    jory.doe("Juniper")
    expect(jory.page.get_by_text(say("phase.5"), exact=True)).to_be_visible()


def test_a_server_that_hangs_does_not_hold_up_the_app(barn: Barn, phone: Screen) -> None:
    """Signal too weak to answer and too strong to fail: the worst kind."""
    before = len(barn.log())
    barn.server.freeze()
    page = phone.page.context.new_page()
    phone.page.close()
    screen = Screen(page, barn.server.url).open()
    expect(screen.heading(say("chores"))).to_be_visible()
    screen.udder("Yarrow", 3)
    screen.saved()
    barn.server.thaw()
    screen.send_now()
    screen.all_sent()
    assert barn.added(before) == ["udder"]


def test_two_screens_of_one_person_agree_without_a_server(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    barn.server.stop()
    second = Screen(phone.page.context.new_page(), barn.server.url).open("pending")
    phone.udder("Yarrow", 3)
    expect(second.chip).to_have_text(say("status.waiting", n=1))
    second.udder("Yarrow", 4)
    expect(phone.chip).to_have_text(say("status.waiting", n=2))
    barn.server.start()
    second.send_now()
    second.all_sent()
    phone.all_sent()
    assert barn.added(before) == ["udder", "udder"]


def test_taken_back_without_a_server_is_taken_back_for_everybody(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    before = len(barn.log())
    barn.server.stop()
    phone.ate("Yarrow", "not_up")
    phone.saved()
    phone.page.locator(".toast").get_by_role("button", name=say("undo")).click()
    expect(phone.toast).to_contain_text(like("undone"))
    barn.server.start()
    phone.send_now()
    phone.all_sent()
    assert barn.added(before) == ["freeze", "intake", "void", "void"]
    mirrin = another("Mirrin").doe("Yarrow")
    rows = records(mirrin)
    assert f"{say('did.not_up')}, {say('slot.morning')}" not in rows
    mirrin.link(say("doe.last")).click()
    expect(mirrin.page.get_by_text(like("last.taken_by", who="Jory")).first).to_be_visible()


def test_a_phone_that_is_told_at_last_sends_by_itself(barn: Barn, phone: Screen) -> None:
    """Nobody taps "send": the app tries again on its own when it comes back to the front."""
    before = len(barn.log())
    barn.server.kill()
    phone.udder("Yarrow", 1)
    phone.saved()
    barn.server.start()
    show_again(phone.page)
    until(lambda: barn.added(before) == ["udder"], "the entry to arrive")
    phone.all_sent()


def show_again(page: Page) -> None:
    page.evaluate("() => document.dispatchEvent(new Event('visibilitychange'))")


def test_a_page_not_yet_gone_holds_up_what_waits_for_seconds_and_not_for_a_minute(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    going = phone.page.context.new_page()
    going.goto(f"{barn.server.url}/healthz")
    going.evaluate(HOLD)
    phone.page.bring_to_front()
    phone.udder(DOE, 3)
    phone.saved()
    phone.page.reload()
    expect(phone.chip).to_have_text(say("status.waiting", n=1))
    phone.page.wait_for_timeout(1000)
    assert barn.added(before) == []
    going.evaluate("() => window.letGo()")
    until(lambda: barn.added(before) == ["udder"], "the entry to be sent")
