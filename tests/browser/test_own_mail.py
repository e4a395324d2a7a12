"""One's own mail address, set and changed from the phone by the link in a mail, where the server sends any; and what it
is for: a new password."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.measures import wrong
from tests.browser.people import NEXT, prove
from tests.browser.screen import Screen
from tests.support.mailbox import Mailbox, code_in
from tests.support.words import say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
FIRST, SECOND = "mirrin@example.org", "mirrin.of.the.upper.farm@example.org"


@pytest.fixture
def box(barn: Barn) -> Iterator[Mailbox]:
    """The farm's server sends mail from here on, to the end of the test."""
    with Mailbox() as box:
        barn.server.env["MANGERLINE_MAIL"] = f"smtp://127.0.0.1:{box.port}/?from=farm@example.org&tls=0"
        barn.server.restart()
        yield box
    del barn.server.env["MANGERLINE_MAIL"]
    barn.server.restart()


def link_in(box: Mailbox, to: str) -> str:
    until(lambda: any(f"To: {to}" in mail and "/#/mail/" in mail for mail in box.mails), "the mail is there")
    mail = next(mail for mail in reversed(box.mails) if f"To: {to}" in mail and "/#/mail/" in mail)
    found = re.search(r"/#/(mail/\S+)", mail.replace("=\r\n", ""))
    assert found, mail
    return found[1]


def ask_for(screen: Screen, email: str) -> None:
    screen.page.locator("#own-mail").fill(email)
    screen.button(say("me.mail.go")).click()


def test_an_address_is_set_by_the_link_in_a_mail_and_changed_by_another(
    box: Mailbox, barn: Barn, phones: Callable[..., Screen]
) -> None:
    mirrin = phones().sign_in("Mirrin", barn.passwords["Mirrin"])
    mirrin.open("farm", "me", "mail")
    expect(mirrin.page.get_by_text(say("me.mail.none"))).to_be_visible()
    ask_for(mirrin, "no address")
    expect(mirrin.page.get_by_role("alert")).to_have_text(say("acc.invalid.email"))
    ask_for(mirrin, FIRST)
    waits, asked = mirrin.page.get_by_text(say("me.mail.waits", email=FIRST)), mirrin.button(say("proof.go"))
    expect(waits.or_(asked)).to_be_visible()
    if asked.count():
        prove(mirrin, barn.passwords["Mirrin"])
    expect(waits).to_be_visible()
    assert wrong(mirrin.page) == []

    other = phones().open(link_in(box, FIRST))
    other.button(say("mail.go")).click()
    expect(other.page.get_by_text(say("mail.done"))).to_be_visible()
    mirrin.page.reload()
    expect(mirrin.page.get_by_text(say("me.mail.has", email=FIRST))).to_be_visible()

    ask_for(mirrin, SECOND)
    expect(mirrin.page.get_by_text(say("me.mail.waits.until", email=SECOND))).to_be_visible()
    assert wrong(mirrin.page) == []
    other.open(link_in(box, SECOND))
    other.page.reload()
    other.button(say("mail.go")).click()
    expect(other.page.get_by_text(say("mail.done"))).to_be_visible()
    mirrin.page.reload()
    expect(mirrin.page.get_by_text(say("me.mail.has", email=SECOND))).to_be_visible()

    forgot_it(other, box)
    other.at(say("chores"))
    expect(other.page.locator("header a[href='#/who']")).to_contain_text("Mirrin")
    mirrin.send_now()
    expect(mirrin.chip).to_contain_text(say("status.locked.none"))
    other.open("farm", "me", "mail")
    other.button(say("me.mail.off")).click()
    prove(other, NEXT)
    expect(other.page.get_by_text(say("me.mail.gone"))).to_be_visible()
    expect(other.page.get_by_text(say("me.mail.none"))).to_be_visible()


def forgot_it(screen: Screen, box: Mailbox) -> None:
    """By a code in a mail, mistyped at first, on a phone nobody is on."""
    screen.open()
    screen.link(say("forgot")).click()
    screen.page.get_by_text(say("forgot.mail"), exact=True).click()
    send, before = screen.button(say("forgot.mail.go")), len(box.mails)
    send.click()
    fault = screen.page.get_by_role("alert")
    expect(fault).to_have_text(say("acc.invalid.email"))
    screen.page.get_by_label(say("forgot.mail.address")).fill(SECOND)
    send.click()
    expect(screen.page.get_by_text(say("forgot.mail.sent"))).to_be_visible()
    until(lambda: len(box.mails) > before, "the mail with the code")
    assert f"To: {SECOND}" in box.mails[-1]
    mailed = screen.page.locator("form", has=screen.page.locator("#mail-code"))
    mailed.get_by_label(say("forgot.new"), exact=True).fill(NEXT)
    go = mailed.get_by_role("button", name=say("forgot.go"), exact=True)
    for code, works in (("QQQQ-QQQQ", False), (code_in(box.mails[-1]), True)):
        mailed.get_by_label(say("forgot.mail.code")).fill(code)
        go.click()
        if not works:
            expect(fault).to_be_visible()
            assert wrong(screen.page) == []


def test_where_no_mail_is_sent_the_recovery_code_is_the_way(barn: Barn, phones: Callable[..., Screen]) -> None:
    jory = phones().sign_in("Jory", barn.passwords["Jory"])
    jory.open("farm", "me", "mail")
    expect(jory.page.get_by_text(say("me.mail.no_server"))).to_be_visible()
    expect(jory.page.get_by_role("main").get_by_role("textbox")).to_have_count(0)
    jory.link(say("me.code")).click()
    expect(jory.button(say("me.code.go"))).to_be_visible()
