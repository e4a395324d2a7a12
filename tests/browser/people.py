"""What people do to come in, on a phone: invited, an account made, a password given once more."""

from __future__ import annotations

import re

from playwright.sync_api import CDPSession, expect

from tests.browser.measures import clipped, too_wide
from tests.browser.screen import Screen
from tests.support.words import say

OWNER = "Odette"
PASSWORD, NEXT = "lantern over the gate", "thaw before the river"
KEY = {
    "protocol": "ctap2",
    "transport": "internal",
    "hasResidentKey": True,
    "hasUserVerification": True,
    "isUserVerified": True,
    "automaticPresenceSimulation": True,
}


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
