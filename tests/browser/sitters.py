"""A pack made by the owner, and the phone of whoever was invited to go by it."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

from playwright.sync_api import BrowserContext, expect

from tests.browser.barn import Barn, today
from tests.browser.people import OWNER, invitation, make_account
from tests.browser.places import Walkers, subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

HELPER = "Mirrin"
TOLD = "The key hangs behind the milk room door.\nThe lower gate sticks: lift it."


def day(ahead: int) -> str:
    return (today() + timedelta(days=ahead)).isoformat()


def make_pack(screen: Screen, first: int = 0, last: int = 4) -> None:
    """On from there: the owner is asked whom to invite."""
    screen.open("farm", "sitter")
    screen.link(say("packs.add")).click()
    fill_dates(screen, first, last)
    screen.page.get_by_label(say("pack.told"), exact=True).fill(TOLD)
    screen.button(re.compile(f"^({re.escape(say('pack.save'))}|{re.escape(say('pack.save.family'))})$")).click()


def fill_dates(screen: Screen, first: int, last: int) -> None:
    screen.page.get_by_label(say("pack.from"), exact=True).fill(day(first))
    screen.page.get_by_label(say("pack.to"), exact=True).fill(day(last))


def newest_pack(barn: Barn) -> str:
    return str(barn.ask("SELECT subject FROM herd_event WHERE kind = 'pack' ORDER BY seq DESC LIMIT 1")[0][0])


def change_dates(screen: Screen, pack: str, first: int, last: int) -> None:
    visit(screen, f"farm/sitter/{pack}/edit")
    fill_dates(screen, first, last)
    screen.button(say("save")).click()
    expect(screen.button(say("save"))).to_have_count(0)


def go_by_pack(family: Screen, barn: Barn, context: BrowserContext) -> None:
    """A pack of the demo farm is for these days, and an owner gives it to who helps there."""
    name = "The weekend at the lake"
    change_dates(family, subject(barn, "pack", name), -1, 3)
    family.all_sent()
    owner = Screen(context.new_page(), barn.server.url).sign_in(OWNER, barn.passwords[OWNER], "Tumblegate")
    visit(owner, "farm/people")
    owner.link(re.compile(f"^{HELPER}")).click()
    give_pack(owner, HELPER, name)
    owner.page.close()


def give_pack(owner: Screen, whom: str, pack: str) -> None:
    """From her page among the people, which is open; unless she has one."""
    held, fold = owner.button(say("member.pack.take", name=whom)), owner.page.get_by_text(say("member.pack", name=whom))
    expect(held.or_(fold)).to_be_visible()
    if not held.count():
        fold.click()
        owner.button(re.compile(re.escape(pack))).click()
    expect(held).to_be_visible()


def walkers(barn: Barn, new: Callable[[], BrowserContext]) -> Walkers:
    """Each on a phone of her own, the family first: it gives the pack its days."""
    family = Screen(new().new_page(), barn.server.url).sign_in("Jory", barn.passwords["Jory"])
    go_by_pack(family, barn, new())
    sitter = Screen(new().new_page(), barn.server.url).sign_in(HELPER, barn.passwords[HELPER])
    return Walkers(family, sitter, barn)


def invited(owner: Screen, whom: str, last: int = 4) -> str:
    """From the page a new pack leads to: the link."""
    expect(owner.page.get_by_text(like("invite.pack"))).to_be_visible()
    expect(owner.page.get_by_label(say("invite.to"), exact=True)).to_have_value(day(last))
    answer = invitation(owner, whom)
    assert (answer["ends_on"], bool(answer["pack"])) == (day(last), True)
    return str(answer["link"])


def comes(phones: Callable[..., Screen], link: str, name: str, clock: bool = False) -> Screen:
    """CLOCK: the time on her phone can be moved on."""
    sitter = phones()
    if clock:
        sitter.page.clock.install()
    sitter.page.goto(link)
    make_account(sitter, name, say("join.new"))
    sitter.at(say("nav.chores"))
    return sitter
