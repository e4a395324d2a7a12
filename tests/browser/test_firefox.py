"""The main path in another engine: a day without a server, the browser shut and opened again, everything sent once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from tests.browser.barn import Barn
from tests.browser.places import visit
from tests.browser.screen import Screen, records
from tests.browser.taken import PLAYS, SHOWN, picture_and_note
from tests.support import firefox
from tests.support.firefox import Firefox
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
DOE = "Teasel"
# A doe in her last weeks who refuses a meal has her grain raises held by the same tap.
RECORDED = ["freeze", "intake", "score"]
SLOW_MS = 30_000


@pytest.fixture
def phone_with_firefox(playwright: Playwright, tmp_path: Path) -> Iterator[Firefox]:
    try:
        program = firefox.find()
    except firefox.NoFirefox as lacking:
        pytest.skip(str(lacking))
    made = Firefox(playwright.firefox, program, tmp_path / "firefox")
    expect.set_options(timeout=SLOW_MS)
    yield made
    expect.set_options(timeout=30_000)
    made.quit()


def reopened(phone: Firefox, barn: Barn) -> Screen:
    """Cold, by the service worker alone: nobody listens on the server's port."""
    assert not barn.server.answers()
    screen = Screen(phone.open(), barn.server.url).open()
    expect(screen.heading(say("chores"))).to_be_visible()
    return screen


def has_them_all(screen: Screen) -> None:
    screen.doe(DOE)
    assert {f"{say('did.refused')}, {say('slot.morning')}", "Condition 2.0"} <= set(records(screen))
    expect(screen.chip).to_have_text(say("status.waiting", n=len(RECORDED)))


def sees_and_hears(screen: Screen, doe: str) -> None:
    visit(screen, f"doe/{doe}/pictures")
    screen.page.wait_for_function(f"() => {{ {SHOWN} }}")
    screen.button(like("say.play")).click()
    screen.page.wait_for_function(f"() => {{ {PLAYS} }}")


def test_firefox_shows_and_plays_what_chromium_took_records_without_a_server_and_sends_everything_once(
    barn: Barn, phone: Screen, phone_with_firefox: Firefox
) -> None:
    doe = picture_and_note(phone, barn, "Sedge")
    screen = Screen(phone_with_firefox.open(), barn.server.url)
    screen.sign_in("Jory", barn.passwords["Jory"]).controlled()
    sees_and_hears(screen, doe)
    before = len(barn.log())

    barn.server.stop()
    screen.page.close()
    screen = reopened(phone_with_firefox, barn)
    screen.ate(DOE, "refused")
    screen.saved()
    screen.score(DOE, 2)
    has_them_all(screen)

    phone_with_firefox.quit()
    screen = reopened(phone_with_firefox, barn)
    has_them_all(screen)

    barn.server.start()
    screen.send_now()
    screen.sign_in_again_if_asked("Jory", barn.passwords["Jory"])
    screen.all_sent()
    assert barn.added(before) == RECORDED
    assert barn.refused() == 0
