"""What goes wrong on the way, one fault at a time: nothing lost, nothing doubled, and no word that is not true."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen
from tests.support.proxy import Fault, Proxy, cut, killed_after_commit, lost_answer, portal, status
from tests.support.words import like, say

pytestmark = pytest.mark.browser
PUSH = "/events"
DOE = "Yarrow"
UDDER = say("r.udder", fill=say("udder.fill.3"), uneven="")


# Each on the same phone, one after the other: the fault, and how many of one entry arrive all the same.
FAULTS: dict[str, tuple[Fault, int]] = {
    "somebody else's page": (portal, 0),
    "500": (status(500), 0),
    "503": (status(503), 0),
    "502 of a server in front": (status(502, ours=False), 0),
    "413 for one small entry": (status(413), 0),
    "413 of a server in front": (status(413, ours=False), 0),
    "request cut": (cut, 0),
    "answer lost": (lost_answer, 1),
    "killed between commit and answer": (killed_after_commit, 1),
}


@pytest.mark.timeout(300)
def test_a_push_that_fails_is_told_as_it_is_and_arrives_once(barn: Barn, proxy: Proxy, spoiled_phone: Screen) -> None:
    for name, (fault, arrived) in FAULTS.items():
        print(name)
        told_as_it_is(barn, proxy, spoiled_phone, fault, arrived)


def told_as_it_is(barn: Barn, proxy: Proxy, spoiled_phone: Screen, fault: Fault, arrived: int) -> None:
    before = len(barn.log())
    proxy.spoil(PUSH, fault)
    spoiled_phone.watch_words()
    spoiled_phone.udder(DOE, 3)
    spoiled_phone.saved()
    proxy.wait_until_met()
    expect(spoiled_phone.chip).to_have_text(say("status.waiting", n=1))
    assert not any(like("status.sent").match(words) for words in since_saved(spoiled_phone))
    assert barn.added(before) == ["udder"] * arrived

    proxy.mend()
    if fault is killed_after_commit:
        barn.server.start()
    spoiled_phone.send_now()
    spoiled_phone.all_sent()
    assert barn.added(before) == ["udder"]
    assert barn.refused() == 0


def since_saved(screen: Screen) -> list[str]:
    """What the chip and the toast said from "saved on this phone" on."""
    said = screen.words()
    saved = [i for i, words in enumerate(said) if like("saved").search(words)]
    return said[saved[0] :]


def test_a_batch_too_large_is_sent_in_halves(barn: Barn, proxy: Proxy, spoiled_phone: Screen) -> None:
    before = len(barn.log())
    proxy.spoil(PUSH, cut)
    for fill in (1, 2, 3):
        spoiled_phone.udder(DOE, fill)
    proxy.wait_until_met()
    proxy.mend()
    proxy.spoil(PUSH, status(413), times=1)
    spoiled_phone.send_now()
    spoiled_phone.all_sent()
    assert barn.added(before) == ["udder"] * 3


def test_one_entry_nobody_can_read_stays_here_and_holds_up_nothing(
    barn: Barn, proxy: Proxy, spoiled_phone: Screen
) -> None:
    before = len(barn.log())
    # Once as it is packed and once plain.
    proxy.spoil(PUSH, status(400), times=2)
    spoiled_phone.udder(DOE, 3)
    expect(spoiled_phone.chip).to_have_text(say("status.needs_you", n=1))
    spoiled_phone.score(DOE, 3)
    until(lambda: barn.added(before) == ["score"], "the next entry to pass it")
    spoiled_phone.open("pending")
    expect(spoiled_phone.page.get_by_text(say("refused.unreadable"))).to_be_visible()
    expect(spoiled_phone.page.get_by_text(UDDER).first).to_be_visible()


def test_an_ended_sign_in_locks_the_sender_and_never_the_logging(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    barn.sign_everybody_out()
    phone.udder(DOE, 3)
    phone.saved()
    expect(phone.chip).to_have_text(say("status.locked", n=1))
    phone.score(DOE, 3)
    phone.saved()
    phone.page.reload()
    expect(phone.chip).to_have_text(say("status.locked", n=2))
    assert barn.added(before) == []

    phone.open("pending")
    expect(phone.page.get_by_text(say("locked.sign_in"))).to_be_visible()
    phone.fill_in_sign_in("Jory", barn.passwords["Jory"])
    phone.all_sent()
    assert barn.added(before) == ["score", "udder"]


def test_somebody_elses_sign_in_sends_nothing_of_mine(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    barn.sign_everybody_out()
    phone.udder(DOE, 3)
    expect(phone.chip).to_have_text(say("status.locked", n=1))
    phone.open("pending")
    phone.fill_in_sign_in("Mirrin", barn.passwords["Mirrin"])
    who = phone.page.locator("header a[href='#/who']")
    # Whoever signs in has the phone from then on; what the other one left waits by name.
    expect(who).to_contain_text("Mirrin")
    expect(phone.chip).to_contain_text(say("status.waiting", n=1))
    assert barn.added(before) == []
    phone.open("who")
    phone.page.get_by_role("button", name=re.compile("^Jory")).click()
    expect(who).to_contain_text("Jory")
    phone.open("pending")
    phone.fill_in_sign_in("Jory", barn.passwords["Jory"])
    phone.all_sent()
    assert [(event["kind"], event["author"]) for event in barn.log()[before:]] == [("udder", person(barn, "Jory"))]


def person(barn: Barn, name: str) -> str:
    return str(barn.ask(f"SELECT id FROM herd_person WHERE name = '{name}'")[0][0])


# The two ways in which a full phone refuses: at the write, or, as Chromium does, at the very end of the transaction.
FULL = """(late) => {
  const put = IDBObjectStore.prototype.put;
  window.full = true;
  IDBObjectStore.prototype.put = function (...what) {
    if (!window.full) return put.apply(this, what);
    if (!late) throw new DOMException("full", "QuotaExceededError");
    const request = put.apply(this, what);
    request.addEventListener("success", () => this.transaction.abort());
    return request;
  };
}"""


@pytest.mark.parametrize("late", [False, True], ids=["at the write", "at the end"])
def test_a_phone_that_cannot_write_never_says_saved(barn: Barn, phone: Screen, late: bool) -> None:
    before = len(barn.log())
    barn.server.stop()
    phone.open()
    phone.page.evaluate(FULL, late)
    phone.watch_words()
    phone.udder(DOE, 3)
    expect(phone.toast).to_contain_text(like("not_saved"))
    shown = phone.page.locator(".toast p")
    # Less than a line: some fonts' letters reach a little beyond theirs.
    assert shown.evaluate("(at) => at.scrollHeight - at.clientHeight") < 12, "it is said to its end"
    expect(phone.chip).to_have_text(say("status.not_saved"))
    assert not any(like("saved").search(words) for words in phone.words())
    phone.link(say("doe.last")).click()
    expect(phone.page.get_by_text(UDDER).first).to_be_visible()

    barn.server.start()
    phone.send_now()
    until(lambda: barn.added(before) == ["udder"], "what storage refused to be sent all the same")
    assert not any(re.match(like("status.sent"), words) for words in phone.words()[1:])

    phone.page.evaluate("() => { window.full = false; }")
    phone.send_now()
    phone.all_sent()
    assert barn.added(before) == ["udder"]


def test_a_phone_whose_database_does_not_open_says_so(barn: Barn, phone: Screen) -> None:
    """The farm cannot be read, so nothing is shown as if it were the farm, and nothing is sent or thrown away."""
    barn.server.stop()
    phone.page.context.add_init_script(
        "IDBFactory.prototype.open = () => { throw new DOMException('no', 'UnknownError'); };"
    )
    phone.page.reload()
    expect(phone.page.get_by_role("main")).to_be_visible()
    expect(phone.page.get_by_text(like("status.sent"))).to_have_count(0)
