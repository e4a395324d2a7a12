"""A phone that several people share: each entry has the author who was on."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]


def on(screen: Screen, name: str) -> None:
    """Two taps: who is on, and whoever is on now."""
    screen.open()
    screen.page.locator("header a[href='#/who']").click()
    screen.page.get_by_role("button", name=re.compile(f"^{name}")).click()
    expect(screen.page.locator("header a[href='#/who']")).to_contain_text(name)


def sign_in_besides(screen: Screen, barn: Barn, name: str) -> None:
    screen.open("who")
    screen.page.get_by_text(say("who.else")).click()
    screen.fill_in_sign_in(name, barn.passwords[name])
    expect(screen.page.locator("header a[href='#/who']")).to_contain_text(name)


def written(barn: Barn, before: int) -> list[tuple[str, str]]:
    """(kind, name of the author) of what the server has got since."""
    names = dict(barn.ask("SELECT id, name FROM herd_person"))
    return sorted((event["kind"], names[event["author"]]) for event in barn.log()[before:])


def test_on_a_shared_phone_each_entry_has_the_author_who_was_on(barn: Barn, phone: Screen) -> None:
    before = len(barn.log())
    sign_in_besides(phone, barn, "Mirrin")
    phone.udder("Juniper", 1)
    on(phone, "Jory")
    phone.score("Juniper", 3)
    phone.send_now()
    phone.all_sent()
    until(lambda: len(barn.log()) >= before + 2, "both entries")
    assert written(barn, before) == [("score", "Jory"), ("udder", "Mirrin")]


def test_taking_the_phone_over_without_a_server_shows_what_the_last_one_did_and_sends_each_as_herself(
    barn: Barn, phone: Screen
) -> None:
    before = len(barn.log())
    sign_in_besides(phone, barn, "Mirrin")
    phone.all_sent()
    barn.server.stop()
    phone.udder("Bramble", 4)
    on(phone, "Jory")
    expect(phone.chip).to_contain_text(like("status.waiting", n=1))
    phone.doe("Bramble")
    phone.link(say("doe.last")).click()
    expect(phone.page.get_by_text(say("r.udder", fill=say("udder.fill.4"), uneven="")).first).to_be_visible()
    phone.score("Bramble", 2)
    phone.open("who")
    expect(phone.page.get_by_role("button", name=re.compile("^Mirrin"))).to_contain_text(say("who.waits", n=1))
    assert len(barn.log()) == before

    barn.server.start()
    phone.send_now()
    phone.all_sent()
    until(lambda: len(barn.log()) >= before + 2, "both entries")
    assert written(barn, before) == [("score", "Jory"), ("udder", "Mirrin")]
    expect(phone.page.get_by_text(say("status.waiting", n=1))).to_have_count(0)


def test_whoever_the_server_wants_to_sign_in_again_loses_nothing_and_nobody_else_sends_for_her(
    barn: Barn, phone: Screen
) -> None:
    before = len(barn.log())
    sign_in_besides(phone, barn, "Mirrin")
    phone.all_sent()
    barn.server.stop()
    phone.udder("Bramble", 2)
    on(phone, "Jory")
    phone.score("Bramble", 3)
    barn.sign_everybody_out()
    barn.server.start()
    phone.send_now()
    expect(phone.chip).to_contain_text(like("status.locked"))
    phone.fill_in_sign_in("Jory", barn.passwords["Jory"])
    until(lambda: written(barn, before) == [("score", "Jory")], "what is Jory's")
    expect(phone.chip).to_contain_text(like("status.waiting", n=1))
    on(phone, "Mirrin")
    phone.send_now()
    expect(phone.chip).to_contain_text(like("status.locked"))
    phone.fill_in_sign_in("Mirrin", barn.passwords["Mirrin"])
    until(lambda: written(barn, before) == [("score", "Jory"), ("udder", "Mirrin")], "what is Mirrin's")


def test_who_signs_out_needs_the_password_again_and_the_other_does_not(barn: Barn, phone: Screen) -> None:
    sign_in_besides(phone, barn, "Mirrin")
    phone.all_sent()
    phone.open("farm", "leave").button(say("leave.go")).click()
    door = phone.page.locator("main.door")
    expect(door.get_by_role("button", name="Jory", exact=True)).to_be_visible()
    expect(door.get_by_role("button", name="Mirrin", exact=True)).to_have_count(0)
    door.get_by_role("button", name="Jory", exact=True).click()
    expect(phone.page.locator("header a[href='#/who']")).to_contain_text("Jory")
    before = len(barn.log())
    phone.udder("Juniper", 2)
    phone.send_now()
    phone.all_sent()
    until(lambda: written(barn, before) == [("udder", "Jory")], "Jory's entry")


def saved_to_file(screen: Screen, path: Path) -> Path:
    screen.open("pending")
    with screen.page.expect_download() as coming:
        screen.button(say("pending.file")).click()
    coming.value.save_as(path)
    expect(screen.page.get_by_text(say("share.file"))).to_be_visible()
    return path


def load(screen: Screen, path: Path, holds: int, says: str) -> None:
    """What Jory saved, on another phone."""
    screen.open("pending")
    screen.page.get_by_label(say("pending.load")).set_input_files(path)
    expect(screen.page.get_by_text(like("pending.load.found", n=holds, who="Jory"))).to_be_visible()
    screen.button(say("pending.load.go", n=holds)).click()
    expect(screen.page.get_by_text(says, exact=True)).to_be_visible()


def test_a_file_brings_it_to_other_phones_and_all_of_it_counts_once_and_as_hers(
    barn: Barn, phone: Screen, another: Callable[..., Screen], owner: Screen, tmp_path: Path
) -> None:
    kitchen, before = another("Jory").controlled(), len(barn.log())
    sign_in_besides(kitchen, barn, "Mirrin")
    kitchen.all_sent()
    for screen in (phone, kitchen):
        screen.page.context.set_offline(True)
    phone.udder("Yarrow", 3)
    phone.score("Yarrow", 2)
    phone.saved()
    first = saved_to_file(phone, tmp_path / "first.txt")
    phone.udder("Bramble", 1)
    phone.saved()
    all_three = saved_to_file(phone, tmp_path / "all_three.txt")

    kitchen.udder("Yarrow", 4)
    load(kitchen, first, 2, say("pending.load.done", n=2))
    load(kitchen, first, 2, say("pending.load.none"))
    expect(kitchen.chip).to_have_text(say("status.waiting", n=3))
    kitchen.page.context.set_offline(False)
    kitchen.send_now()
    kitchen.all_sent()
    come = [("score", "Jory"), ("udder", "Jory"), ("udder", "Mirrin")]
    assert written(barn, before) == come, "she has a place on this phone"

    owner.send_now()
    owner.all_sent()
    load(owner, all_three, 3, say("pending.load.done", n=1))
    owner.send_now()
    owner.all_sent()
    assert written(barn, before) == come, "on this one she has none"
    owner.open("farm", "people", "aside")
    owner.button(say("aside.let_in")).click()
    expect(owner.page.get_by_text(say("aside.none"))).to_be_visible()

    expect(phone.chip).to_have_text(say("status.waiting", n=3))
    phone.page.context.set_offline(False)
    phone.send_now()
    phone.all_sent()
    expect(phone.page.get_by_text(say("pending.none"))).to_be_visible()
    assert written(barn, before) == sorted([*come, ("udder", "Jory")])
    assert barn.ask("SELECT code, decided FROM herd_quarantine") == [("carried", "let_in")]
