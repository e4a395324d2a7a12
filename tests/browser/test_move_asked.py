"""A move a helper asks for: nobody is moved and no pen is made until who plans lets it in, and then all of it is."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, ViewportSize, expect

from tests.browser.screen import Screen
from tests.browser.tapped_acts import PASSWORD, PERSON, offers, planted
from tests.support.live import Server
from tests.support.paths import ROOT
from tests.support.words import like, say

pytestmark = pytest.mark.browser
PHONE: ViewportSize = {"width": 360, "height": 740}
HELPER = "Mirrin"
ADDED = f"""
import django
django.setup()
from herd.models import Farm, Membership, Person
from herd.models.farm import HELPER
helper = Person.objects.make({HELPER!r}, {PASSWORD!r})
Membership.objects.create(farm=Farm.objects.get(), person=helper, role=HELPER)
"""


@pytest.fixture
def barn(built_client: None) -> Iterator[Server]:
    with planted() as server:
        env = {**server.env, "DJANGO_SETTINGS_MODULE": "herd.settings"}
        subprocess.run([sys.executable, "-c", ADDED], cwd=ROOT, env=env, check=True)
        yield server


def phone(browser: Browser, barn: Server, who: str) -> Screen:
    page = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, locale="en-GB").new_page()
    return Screen(page, barn.url).sign_in(who, PASSWORD).controlled()


@pytest.mark.slow
def test_it_waits_whole_under_her_name_and_goes_in_whole(barn: Server, browser: Browser) -> None:
    pen = say("act.move.pen", name="Olive")
    moved = like("act.move.line.alone", name="Olive", pen=pen)
    hers = phone(browser, barn, HELPER)
    hers.doe("Olive")
    act = offers(hers).first
    act.get_by_role("button", name=say("act.ask", owner=PERSON)).click()
    hers.saved()
    expect(act.get_by_role("button")).to_have_count(0)
    hers.send_now()
    owners = phone(browser, barn, PERSON)
    owners.chores()
    expect(owners.page.get_by_role("heading", name=pen)).to_have_count(0)
    owners.doe("Olive")
    card = owners.page.locator("section.card").filter(has_text=HELPER)
    expect(card).to_have_count(1)
    expect(card).to_contain_text(moved)
    expect(card.locator("li")).to_have_count(4)
    card.get_by_role("button", name=say("wish.let_in")).click()
    owners.saved()
    expect(card).to_have_count(0)
    expect(owners.page.locator(".adopted")).to_contain_text(moved)
    owners.chores()
    expect(owners.page.get_by_role("heading", name=pen)).to_have_count(1)
