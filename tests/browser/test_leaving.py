"""The owner takes the farm along, takes a name off it and closes it, with the password each time."""

from __future__ import annotations

import json
import shutil
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn
from tests.browser.measures import clipped, targets, too_wide
from tests.browser.places import dress
from tests.browser.screen import Screen
from tests.support.live import Server
from tests.support.words import say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PLACES = ("take", "forget", "close")
GLOVE_PX = 60


@pytest.fixture
def own_barn(demo_folder: Path, tmp_path: Path) -> Iterator[Barn]:
    """Not shared: little of it is left."""
    folder = tmp_path / "data"
    shutil.copytree(demo_folder, folder)
    passwords = json.loads((folder / "demo_passwords.json").read_text())
    with Server(folder) as server:
        yield Barn(server, passwords)


@pytest.fixture
def owner(own_barn: Barn, page: Page) -> Screen:
    return Screen(page, own_barn.server.url).sign_in("Odette", own_barn.passwords["Odette"], "Tumblegate").controlled()


def give(screen: Screen, password: str, key: str, **named: str) -> None:
    screen.page.get_by_label(say("leaving.password")).fill(password)
    screen.page.get_by_role("button", name=say(key, **named)).click()


@pytest.mark.parametrize(("theme", "language"), [("day", "en"), ("night", "es"), ("day", "es"), ("night", "en")])
def test_the_pages_are_readable_and_can_be_tapped(owner: Screen, theme: str, language: str) -> None:
    page = owner.page
    with speaking(language):
        dress(page, theme)
        for place in PLACES:
            owner.open("farm", place)
            expect(owner.heading(say(f"farm.{place}"))).to_be_visible()
            if place == "forget":
                page.get_by_label("Mirrin").check()
            assert (clipped(page), too_wide(page)) == ([], []), place
            small = [one for one in targets(page) if min(one["width"], one["height"]) < GLOVE_PX]
            assert small == [], place


def test_the_farm_comes_as_a_file(own_barn: Barn, owner: Screen, tmp_path: Path) -> None:
    owner.open("farm/take")
    give(owner, "not it", "take.go")
    expect(owner.page.get_by_role("alert")).to_have_text(say("acc.wrong_password"))
    with owner.page.expect_download() as coming:
        give(owner, own_barn.passwords["Odette"], "take.go")
    path = tmp_path / coming.value.suggested_filename
    coming.value.save_as(path)
    expect(owner.page.get_by_role("status").filter(has_text=say("take.done"))).to_be_visible()
    with zipfile.ZipFile(path) as zipped:
        assert zipped.testzip() is None
        assert b"Marigold" in zipped.read("tables/doe.csv")
    assert path.suffix == ".zip"


def test_a_name_comes_off_the_farm(own_barn: Barn, owner: Screen) -> None:
    owner.open("farm/forget")
    owner.page.get_by_label("Mirrin").check()
    give(owner, own_barn.passwords["Odette"], "forget.go", name="Mirrin")
    expect(owner.page.get_by_text(say("forget.done", name="Mirrin"))).to_be_visible()
    owner.open("farm/people")
    expect(owner.page.get_by_text("Mirrin")).to_have_count(0)
    assert "Mirrin" not in str(own_barn.ask("SELECT name FROM herd_person"))


def test_a_closed_farm_is_gone_from_server_and_phone(own_barn: Barn, owner: Screen) -> None:
    [(farm, name)] = own_barn.ask("SELECT id, name FROM herd_farm ORDER BY seq DESC LIMIT 1")
    owner.open("farm/close")
    give(owner, own_barn.passwords["Odette"], "close.go")
    expect(owner.page.get_by_role("alert")).to_have_text(say("leaving.name"))
    owner.page.get_by_label(say("close.name", farm=name)).fill(name.lower())
    give(owner, own_barn.passwords["Odette"], "close.go")
    expect(owner.page.get_by_role("heading", name=say("farms.which"))).to_be_visible()
    expect(owner.page.get_by_role("alert"), "who closed it knows").to_have_count(0)
    assert own_barn.ask(f"SELECT count(*) FROM herd_event WHERE farm_id = '{farm}'") == [(0,)]
    held = owner.page.evaluate("async () => (await indexedDB.databases()).map(({ name }) => name)")
    assert not [one for one in held if farm in one], held


def test_only_the_owner_is_shown_the_way(own_barn: Barn, page: Page) -> None:
    family = Screen(page, own_barn.server.url).sign_in("Mirrin", own_barn.passwords["Mirrin"])
    family.open("farm")
    expect(page.get_by_text(say("farm.about"))).to_be_visible()
    expect(page.get_by_text(say("farm.close"))).to_have_count(0)
    family.open("farm/close")
    expect(page.get_by_role("button", name=say("close.go"))).to_have_count(0)
