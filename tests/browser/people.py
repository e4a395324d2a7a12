"""What people do to come in, on a phone: invited, an account made, a password given once more."""

from __future__ import annotations

import re
import struct
import zlib
from dataclasses import dataclass
from typing import Any

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


def picture(shade: int) -> Any:
    """A file as somebody picks it, one grey all over."""
    size, rows = 8, b"".join(b"\0" + bytes([shade]) * 8 for _ in range(8))
    parts = {b"IHDR": struct.pack(">IIBBBBB", size, size, 8, 0, 0, 0, 0), b"IDAT": zlib.compress(rows), b"IEND": b""}
    png = b"\x89PNG\r\n\x1a\n" + b"".join(
        struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        for name, data in parts.items()
    )
    return {"name": "her.png", "mimeType": "image/png", "buffer": png}


def invite(owner: Screen, role: str, whom: str) -> tuple[str, str]:
    """The link that is in the picture, and the code."""
    owner.open("farm", "people", "invite")
    owner.link(re.compile(f"^{say(f'role.{role}')}")).click()
    link = invitation(owner, whom)["link"]
    code = owner.page.locator(".secret").inner_text()
    return str(link), "".join(code.split())


def invitation(owner: Screen, whom: str) -> dict[str, Any]:
    """The form that is open sent off for somebody: what the server answered."""
    owner.page.get_by_label(say("invite.whom")).fill(whom)
    with owner.page.expect_response(
        lambda answer: answer.url.endswith("/invitations") and answer.status == 201
    ) as made:
        owner.button(say("invite.go")).click()
    owner.at(re.compile(whom))
    answer: dict[str, Any] = made.value.json()
    return answer


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


@dataclass(frozen=True)
class Lock:
    session: CDPSession
    number: str

    def keys(self) -> list[Any]:
        """What the maker of the phone brings over to her next one."""
        return list(self.session.send("WebAuthn.getCredentials", {"authenticatorId": self.number})["credentials"])


def with_key(screen: Screen, *known: Any) -> Lock:
    """A phone with a lock that opens a passkey: a new one, and those it has already."""
    session = screen.page.context.new_cdp_session(screen.page)
    session.send("WebAuthn.enable")
    number = session.send("WebAuthn.addVirtualAuthenticator", {"options": KEY})["authenticatorId"]
    for key in known:
        session.send("WebAuthn.addCredential", {"authenticatorId": number, "credential": key})
    return Lock(session, number)


def prove(screen: Screen, password: str) -> None:
    screen.page.locator("#proof").fill(password)
    screen.button(say("proof.go")).click()


def prove_if_asked(screen: Screen, password: str) -> None:
    """Not within five minutes of the last time."""
    asked = screen.button(say("proof.go"))
    expect(asked.or_(screen.page.get_by_text(say("keys.none"))).first).to_be_visible()
    if asked.count():
        prove(screen, password)
