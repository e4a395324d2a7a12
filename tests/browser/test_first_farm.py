"""The first evening: an empty farm, set up in the app alone, with no scale; and at its end something useful is said."""

from __future__ import annotations

import re
from datetime import timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn, today, until
from tests.browser.screen import Screen, plan_of
from tests.support.live import Server
from tests.support.words import like, say

pytestmark = pytest.mark.browser
HAY = "orchardgrass hay, gen"
MONTHS = {month: say(f"month.{month}") for month in range(1, 13)}
DATE = rf"(\d+\s({'|'.join(MONTHS.values())})|{say('day.0')}|{say('day.1')}|\w+day)"


def field(screen: Screen, key: str, more: str = "") -> None:
    screen.page.get_by_label(re.compile(f"^{re.escape(say(key))}")).first.fill(more)


def set_up(screen: Screen, bred_on: str) -> None:
    """By the long forms; the small questions are in test_new_farm.py."""
    screen.open("farm", "pens", "new")
    field(screen, "f.name", "Home pen")
    screen.button(say("save")).click()
    screen.open("farm", "doe", "new")
    field(screen, "f.name", "Quince")
    field(screen, "f.bred_on", bred_on)
    screen.button(say("save")).click()
    screen.open("farm", "pens")
    screen.link(re.compile("^Home pen")).click()
    screen.link(say("pens.ration")).click()
    screen.pick_feed(say("f.feed"), HAY)
    screen.page.get_by_label(say("ration.amount"), exact=True).fill("1800")
    screen.button(say("ration.save")).click()


def test_an_empty_farm_is_set_up_and_says_something_useful_the_same_evening(barn: Barn, newcomer: Screen) -> None:
    before = len(barn.log())
    expect(newcomer.page.get_by_text(say("start.what"))).to_be_visible()
    day = today() - timedelta(days=100)
    set_up(newcomer, day.isoformat())
    newcomer.as_planned("Home pen")
    newcomer.saved()
    newcomer.all_sent()
    until(lambda: len(barn.added(before)) == 6, "what was entered to arrive")
    assert barn.added(before) == sorted(["pen", "doe", "bred", "moved", "ration", "fed"])

    newcomer.doe("Quince")
    main = newcomer.page.get_by_role("main")
    expect(main).to_contain_text(like("doe.day", n=100))
    expect(main).to_contain_text(re.compile(f"{say('doe.due', on='')}{DATE}"))
    plan = plan_of(newcomer)
    expect(plan).to_contain_text(re.compile("hay", re.IGNORECASE))
    expect(plan).to_contain_text(re.compile(say("grain"), re.IGNORECASE))
    expect(plan).to_contain_text(re.compile(DATE))


def test_a_doe_entered_without_a_server_says_what_it_waits_for(barn: Barn, newcomer: Screen) -> None:
    """Her amounts come from the server once; until then her record stands and nothing is guessed."""
    barn.server.stop()
    newcomer.open("farm", "doe", "new")
    field(newcomer, "f.name", "Damson")
    newcomer.button(say("save")).click()
    newcomer.saved()
    newcomer.open("does")
    newcomer.link(re.compile("Damson")).first.click()
    expect(newcomer.page.get_by_text(re.compile(say("doe.standing.no_outlook")[:20])).first).to_be_visible()
    barn.server.start()
    newcomer.send_now()
    newcomer.all_sent()


def test_a_farm_is_made_in_the_app(server: Server, page: Page, tmp_path: Path) -> None:
    """A person with no farm at all makes one."""
    server.manage("add_person", "Pim", "--stdin", stdin="seven quiet goats\n")
    screen = Screen(page, server.url).open()
    screen.fill_in_sign_in("Pim", "seven quiet goats")
    screen.page.get_by_label(say("farms.name"), exact=True).fill("Low Meadow")
    screen.button(say("farms.create")).click()
    screen.at(say("setup"))
    expect(screen.page.get_by_role("heading", name=say("setup.units"))).to_be_visible()
