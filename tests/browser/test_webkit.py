"""The main path in the iPhone's engine: a morning without a server, a doe that leaves grain, all sent once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.barn import Barn
from tests.browser.glass import Glass
from tests.browser.places import subject
from tests.browser.rows import LEFT
from tests.browser.screen import Screen
from tests.browser.taken import PLAYS, SHOWN, picture_and_note
from tests.support.webkit import NoWebKit, WebKit
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
# How much she left is said after the first tap, and which of the two again after that: each puts the meal right.
RECORDED = ["correct", "correct", "fed", "freeze", "intake", "triage", "triage"]
DOE, PEN = "Tansy", "Parlour side"


@pytest.fixture
def glass(barn: Barn, tmp_path: Path) -> Iterator[Glass]:
    try:
        phone = WebKit(tmp_path)
    except NoWebKit as lacking:
        pytest.skip(str(lacking))
    try:
        yield Glass(phone.open(), barn.server.url)
    finally:
        phone.quit()


def reopened(glass: Glass, barn: Barn) -> None:
    """By the service worker alone: nobody listens on the server's port."""
    assert not barn.server.answers()
    glass.open()
    glass.reload()
    glass.heading(say("chores"))


def as_planned(pen: str) -> str:
    words = like("pen.all", pen=pen).pattern
    return f".*(?:{words}.*{pen}|{pen}.*{words}).*"


def waits(glass: Glass, n: int) -> None:
    glass.chip(like("status.waiting", n=n))


def sees_and_hears(glass: Glass, doe: str) -> None:
    glass.open("doe", doe, "pictures")
    glass.until(lambda: glass.driver.execute_script(SHOWN), "the picture")
    glass.tap(like("say.play").pattern, "main")
    glass.until(lambda: glass.driver.execute_script(PLAYS), "the note to be playable")


def test_webkit_shows_and_plays_what_chromium_took_feeds_and_asks_without_a_server_and_sends_everything_once(
    barn: Barn, phone: Screen, glass: Glass
) -> None:
    doe = picture_and_note(phone, barn, "Sedge")
    glass.sign_in("Jory", barn.passwords["Jory"])
    glass.chip(like("status.sent"))
    glass.controlled()
    sees_and_hears(glass, doe)
    glass.open()
    before = len(barn.log())

    barn.server.kill()
    reopened(glass, barn)
    glass.tap(say("slot.evening"))
    her_row = f"#row-{subject(barn, 'doe', DOE)}"
    glass.tap(f"{re.escape(LEFT)}: {DOE}")
    glass.tap(re.escape(say("ate.share.50")), her_row)
    glass.tap(as_planned(PEN), ".pen")
    glass.open("doe", subject(barn, "doe", DOE), "off")
    glass.tap(re.escape(say("off.left.grain")), "main")
    glass.tap(re.escape(say("yes")), "[aria-labelledby=ask-new_feed]")
    glass.says(re.escape(say("off.then.new_feed")))
    glass.says(like("saved").pattern, ".sr[role=status]")
    waits(glass, len(RECORDED))
    reopened(glass, barn)
    glass.open("doe", subject(barn, "doe", DOE), "off")
    glass.says(re.escape(say("off.then.new_feed")))
    waits(glass, len(RECORDED))

    barn.server.start()
    glass.open("pending")
    glass.tap(re.escape(say("pending.now")))
    glass.chip(like("status.sent"))
    assert barn.added(before) == RECORDED
    assert barn.refused() == 0
