"""Seven days by a sitter, one after the other on her phone, the owner's and the server: the owner moves the end while
she is there, and she is in through the new last day and no longer."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.measures import wrong
from tests.browser.people import OWNER, prove
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.browser.sitters import change_dates, comes, day, invited, make_pack, newest_pack
from tests.browser.test_sitter import DAY_MS, DOE, HELD, MINUTE_MS, PEN
from tests.support.live import Server
from tests.support.paths import ROOT
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.slow, pytest.mark.timeout(600)]
SITTER, SLOT = "Wilfa", "evening"


class Week:
    """The day it is, to all of them at once."""

    def __init__(self, barn: Barn, file: Path) -> None:
        self.barn, self.file, self.today = barn, file, 0
        self.phones: list[Screen] = []

    def next_day(self) -> None:
        self.today += 1
        self.file.write_text(str(self.today))
        for phone in self.phones:
            phone.page.clock.fast_forward(DAY_MS)

    def place(self) -> tuple[str, ...]:
        person = f"(SELECT id FROM herd_person WHERE name = '{SITTER}')"
        return tuple(self.barn.ask(f"SELECT ends_on FROM herd_membership WHERE person_id = {person}")[0])


@pytest.fixture(scope="module")
def demo_barn(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Barn]:
    folder = tmp_path_factory.mktemp("week") / "data"
    shutil.copytree(demo_folder, folder)
    server = Server(folder)
    (folder / "days_ahead").write_text("0")
    moved = ROOT / "tests/support/moved_clock"
    server.env |= {"DAYS_AHEAD_IN": str(folder / "days_ahead"), "PYTHONPATH": os.pathsep.join((str(moved), str(ROOT)))}
    with server:
        yield Barn(server, json.loads((folder / "demo_passwords.json").read_text()))


@pytest.fixture
def week(barn: Barn) -> Week:
    return Week(barn, barn.server.folder / "days_ahead")


def a_minute(*phones: Screen) -> None:
    """They hear of each other by themselves."""
    for phone in phones:
        phone.page.clock.fast_forward(2 * MINUTE_MS)


def feed(sitter: Screen, week: Week) -> None:
    """A meal: what was given is sent, and taken as of that day."""
    before, refused = len(week.barn.log()), week.barn.refused()
    sitter.open().button(say(f"slot.{SLOT}")).click()
    sitter.as_planned(PEN)
    expect(sitter.page.locator(".pen .fed").first).to_be_visible()
    sitter.send_now()
    until(lambda: bool(week.barn.added(before, "fed")), f"fed on day {week.today}", wait_s=60)
    sitter.open()
    fed = [event for event in week.barn.log()[before:] if event["kind"] == "fed"]
    assert [(event["on"], event["slot"]) for event in fed] == [(day(week.today), SLOT)]
    assert week.barn.refused() == refused


def is_here_until(sitter: Screen, ahead: int) -> None:
    _, month, date = day(ahead).split("-")
    said = say("date", date=int(date), month=say(f"month.{int(month)}"))
    expect(sitter.page.get_by_text(like("sitter.until"))).to_contain_text(f" {said}.")


def planned_for(owner: Screen, barn: Barn, ahead: int, grams: str) -> None:
    visit(owner, f"ration/{subject(barn, 'doe', DOE)}/{SLOT}/{subject(barn, 'feed', 'Stand mix')}")
    owner.page.get_by_label(say("ration.from")).first.fill(day(ahead))
    owner.page.get_by_role("textbox").first.fill(grams)
    owner.button(say("ration.save")).click()
    owner.saved()
    owner.all_sent()


def test_the_end_is_moved_while_she_is_there(week: Week, phones: Callable[..., Screen]) -> None:
    barn = week.barn
    owner, family = phones(), phones()
    for phone, name in ((owner, OWNER), (family, "Jory")):
        phone.page.clock.install()
        phone.sign_in(name, barn.passwords[name], "Tumblegate" if name == OWNER else "")
    planned_for(owner, barn, 1, "380")
    make_pack(owner, 0, 2)
    owner.all_sent()
    pack = newest_pack(barn)
    sitter = comes(phones, invited(owner, SITTER, 2), SITTER, clock=True).controlled()
    week.phones = [owner, family, sitter]
    is_here_until(sitter, 2)
    sitter.open().button(say(f"slot.{SLOT}")).click()
    expect(sitter.row(DOE)).to_contain_text("400")
    feed(sitter, week)

    week.next_day()
    sitter.open().button(say(f"slot.{SLOT}")).click()
    expect(sitter.row(DOE)).to_contain_text("380")
    feed(sitter, week)
    change_dates(owner, pack, 0, 4)
    until(lambda: week.place() == (day(4),), "her place has gone with the pack")
    expect(owner.page.get_by_text(like("place.ends"))).to_have_count(0)
    a_minute(sitter)
    is_here_until(sitter, 4)

    # The old last day, and the day after it.
    for _ in range(2):
        week.next_day()
        feed(sitter, week)
    is_here_until(sitter, 4)

    # The family moves it too, and may not move her place: nothing is promised her, and the owner is told.
    change_dates(family, pack, 0, 5)
    family.all_sent()
    expect(family.page.get_by_text(like("place.ends"))).to_contain_text(SITTER)
    expect(family.page.get_by_text(like("place.owner", owner=OWNER))).to_be_visible()
    expect(family.button(like("place.give"))).to_have_count(0)
    a_minute(sitter, owner)
    is_here_until(sitter, 4)
    assert week.place() == (day(4),)
    visit(owner, "farm/people")
    expect(owner.page.get_by_text(like("place.ends"))).to_contain_text(SITTER)
    give(owner, barn)
    until(lambda: week.place() == (day(5),), "her place reaches as far")
    a_minute(sitter)
    is_here_until(sitter, 5)

    for _ in range(2):
        week.next_day()
        feed(sitter, week)
        assert wrong(sitter.page) == []

    week.next_day()
    expect(sitter.heading(like("notice.removed.title"))).to_be_visible()
    until(lambda: DOE not in sitter.page.evaluate(HELD), "her phone holds nothing of the farm")
    assert barn.ask(f"SELECT gone_why FROM herd_membership WHERE pack = '{pack}'") == [("ended",)]


def give(owner: Screen, barn: Barn) -> None:
    """With her password, if she gave it too long ago."""
    button = owner.button(like("place.give"))
    button.click()
    asked, done = owner.button(say("proof.go")), owner.page.get_by_text(like("place.ends"))
    until(lambda: asked.count() > 0 or done.count() == 0, "asked for her password, or done")
    if asked.count():
        prove(owner, barn.passwords[OWNER])
    expect(done).to_have_count(0)
