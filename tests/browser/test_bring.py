"""A farm taken along by its owner comes in on another phone, under another account, as the same farm."""

from __future__ import annotations

import base64
import json
import os
import shutil
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn, until
from tests.browser.measures import clipped, targets, too_wide
from tests.browser.places import dress, subject
from tests.browser.screen import Screen
from tests.support.live import Server
from tests.support.thorough import THOROUGH
from tests.support.words import like, say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
WORD, GLOVE_PX = "a word of her own", 60
FACE = """async () => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 800, height: 600 });
  canvas.getContext("2d").fillRect(100, 100, 300, 200);
  const bytes = new Uint8Array(await (await new Promise((done) => canvas.toBlob(done, "image/jpeg"))).arrayBuffer());
  return btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(""));
}"""
# Looking back at the years is done once a night.
OUTLOOKS = (
    "SELECT doe, doc_sha256 FROM herd_outlookrow WHERE farm_id = '{}' AND doe <> '' AND doe <> 'years' ORDER BY doe"
)


@pytest.fixture
def barn(demo_folder: Path, tmp_path: Path) -> Iterator[Barn]:
    """Not shared: another farm comes onto it."""
    folder = tmp_path / "data"
    shutil.copytree(demo_folder, folder)
    with Server(folder) as server:
        server.manage("add_person", "Wilfa", "--stdin", stdin=WORD + "\n")
        yield Barn(server, json.loads((folder / "demo_passwords.json").read_text()))


@pytest.fixture
def owner(barn: Barn, page: Page) -> Screen:
    return Screen(page, barn.server.url).sign_in("Odette", barn.passwords["Odette"], "Tumblegate").controlled()


@pytest.fixture
def newcomer(phones: Callable[..., Screen]) -> Screen:
    """Another phone, and an account with no farm."""
    screen = phones().open()
    screen.fill_in_sign_in("Wilfa", WORD)
    screen.link(say("bring.title")).click()
    screen.at(say("bring.title"))
    return screen


def pictured(screen: Screen, barn: Barn, path: Path) -> None:
    """A picture of Teasel, on the server."""
    path.write_bytes(base64.b64decode(screen.page.evaluate(FACE)))
    screen.open("doe", subject(barn, "doe", "Teasel"), "pictures")
    with screen.page.expect_file_chooser() as chosen:
        screen.page.get_by_text(say("pictures.her"), exact=True).click()
    chosen.value.set_files(path)
    expect(screen.page.get_by_role("img", name="Teasel")).to_be_visible()
    screen.all_sent()
    until(lambda: barn.ask("SELECT count(*) FROM herd_blob") == [(1,)], "the picture is on the server")


def taken(screen: Screen, password: str, path: Path) -> Path:
    screen.open("farm", "take")
    screen.page.get_by_label(say("leaving.password")).fill(password)
    with screen.page.expect_download() as coming:
        screen.button(say("take.go")).click()
    coming.value.save_as(path)
    return path


def choose(screen: Screen, path: Path, key: str = "bring.choose") -> None:
    with screen.page.expect_file_chooser() as chosen:
        screen.page.get_by_text(say(key), exact=True).click()
    chosen.value.set_files(path)


def look_at(screen: Screen, folder: str, name: str) -> None:
    if folder:
        Path(folder).mkdir(parents=True, exist_ok=True)
        screen.page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)


def test_the_same_log_the_same_outlooks_and_the_picture_come(
    barn: Barn, owner: Screen, newcomer: Screen, tmp_path: Path
) -> None:
    pictured(owner, barn, tmp_path / "face.jpg")
    path = taken(owner, barn.passwords["Odette"], tmp_path / "farm.zip")
    choose(newcomer, path)
    [(farm, entries)] = barn.ask("SELECT id, seq FROM herd_farm WHERE name = 'Tumblegate'")
    expect(newcomer.page.get_by_text(say("bring.inside", n=entries, m=1), exact=True)).to_be_visible()
    newcomer.page.get_by_label(say("farms.name")).fill("Tumblegate by the mill")
    newcomer.page.get_by_label(say("leaving.password")).fill("not it")
    newcomer.button(say("bring.go")).click()
    expect(newcomer.page.get_by_role("alert")).to_have_text(say("acc.wrong_password"))
    newcomer.page.get_by_label(say("leaving.password")).fill(WORD)
    newcomer.button(say("bring.go")).click()
    newcomer.at(say("chores"))
    [(made,)] = barn.ask("SELECT id FROM herd_farm WHERE name = 'Tumblegate by the mill'")
    log = "SELECT seq, id, raw, eff, fold_status FROM herd_event WHERE farm_id = '{}' ORDER BY seq"
    assert barn.ask(log.format(made)) == barn.ask(log.format(farm))
    assert barn.ask("SELECT count(*), count(DISTINCT content) FROM herd_blob") == [(2, 1)]
    does = [doe for doe, _ in barn.ask(OUTLOOKS.format(farm))]
    assert len(does) > 10
    before = OUTLOOKS.format(farm)
    until(lambda: barn.ask(OUTLOOKS.format(made)) == barn.ask(before), "the worker makes the same outlooks", 120)
    newcomer.send_now()
    newcomer.all_sent()


def test_what_is_wrong_with_a_file_is_said_before_it_is_sent(newcomer: Screen, tmp_path: Path) -> None:
    (tmp_path / "list.zip").write_bytes(b"milk, bread, twine")
    with zipfile.ZipFile(tmp_path / "other.zip", "w") as zipped:
        zipped.writestr("manifest.json", "{}")
    choose(newcomer, tmp_path / "list.zip")
    expect(newcomer.page.get_by_role("alert")).to_have_text(say("acc.no_farm_file"))
    expect(newcomer.button(say("bring.go"))).to_have_count(0)
    choose(newcomer, tmp_path / "other.zip")
    expect(newcomer.page.get_by_role("alert")).to_have_text(say("acc.no_farm_file"))


def test_what_the_server_finds_wrong_is_said(barn: Barn, owner: Screen, newcomer: Screen, tmp_path: Path) -> None:
    path = taken(owner, barn.passwords["Odette"], tmp_path / "farm.zip")
    changed = bytearray(path.read_bytes())
    changed[len(changed) // 3] ^= 1
    path.write_bytes(changed)
    choose(newcomer, path)
    newcomer.page.get_by_label(say("leaving.password")).fill(WORD)
    newcomer.button(say("bring.go")).click()
    expect(newcomer.page.get_by_role("alert")).to_have_text(say("acc.farm_file_changed"))
    assert barn.ask("SELECT count(*) FROM herd_filepart") == [(0,)]
    look_at(newcomer, os.environ.get("MANGERLINE_PICTURES", ""), "changed")


LOOKS = [("day", "en"), ("night", "es"), ("day", "es"), ("night", "en")]


@pytest.mark.parametrize(("theme", "language"), LOOKS if THOROUGH else LOOKS[:2])
def test_the_page_is_readable_and_can_be_tapped(
    barn: Barn, owner: Screen, tmp_path: Path, theme: str, language: str
) -> None:
    path, page = taken(owner, barn.passwords["Odette"], tmp_path / "farm.zip"), owner.page
    pictures = os.environ.get("MANGERLINE_PICTURES", "")
    with speaking(language):
        dress(page, theme)
        owner.open("farm")
        owner.link(like("bring.title")).click()
        owner.at(say("bring.title"))
        check(page, "empty")
        look_at(owner, pictures, f"{theme}_{language}_1")
        choose(owner, path)
        expect(owner.button(say("bring.go"))).to_be_visible()
        check(page, "chosen")
        look_at(owner, pictures, f"{theme}_{language}_2")
        page.get_by_label(say("leaving.password")).fill(barn.passwords["Odette"])
        page.route("**/take-in", lambda route: None)
        owner.button(say("bring.go")).click()
        expect(page.get_by_text(say("bring.making"))).to_be_visible()
        check(page, "under way")
        look_at(owner, pictures, f"{theme}_{language}_3")


def check(page: Page, where: str) -> None:
    assert (clipped(page), too_wide(page)) == ([], []), where
    assert [one for one in targets(page) if min(one["width"], one["height"]) < GLOVE_PX] == [], where
