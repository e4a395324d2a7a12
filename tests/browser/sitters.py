"""A pack made by the owner, and the phone of whoever was invited to go by it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

from playwright.sync_api import expect

from tests.browser.barn import today
from tests.browser.people import invitation, make_account
from tests.browser.screen import Screen
from tests.support.words import like, say

TOLD = "The key hangs behind the milk room door.\nThe lower gate sticks: lift it."


def day(ahead: int) -> str:
    return (today() + timedelta(days=ahead)).isoformat()


def make_pack(screen: Screen, first: int = 0, last: int = 4) -> None:
    """On from there: the owner is asked whom to invite."""
    screen.open("farm", "sitter")
    screen.link(say("packs.add")).click()
    screen.page.get_by_label(say("pack.from"), exact=True).fill(day(first))
    screen.page.get_by_label(say("pack.to"), exact=True).fill(day(last))
    screen.page.get_by_label(say("pack.told"), exact=True).fill(TOLD)
    screen.button(re.compile(f"^({re.escape(say('pack.save'))}|{re.escape(say('pack.save.family'))})$")).click()


def invited(owner: Screen, whom: str) -> str:
    """From the page a new pack leads to: the link."""
    expect(owner.page.get_by_text(like("invite.pack"))).to_be_visible()
    expect(owner.page.get_by_label(say("invite.to"), exact=True)).to_have_value(day(4))
    answer = invitation(owner, whom)
    assert (answer["ends_on"], bool(answer["pack"])) == (day(4), True)
    return str(answer["link"])


def comes(phones: Callable[..., Screen], link: str, name: str) -> Screen:
    sitter = phones()
    sitter.page.goto(link)
    make_account(sitter, name, say("join.new"))
    sitter.at(say("nav.chores"))
    return sitter
