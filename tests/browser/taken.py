"""A picture and a spoken note of a doe, taken in Chromium, and what another engine makes of them."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.people import picture
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

# Scripts of what is on her page of pictures.
SHOWN = "return (document.querySelector('main img.shot') ?? {}).naturalWidth > 0;"
PLAYS = """
const sound = document.querySelector('main audio');
return sound !== null && sound.error === null && sound.readyState >= 2 && sound.duration > 1 && sound.duration < 30;
"""


def picture_and_note(phone: Screen, barn: Barn, name: str) -> str:
    """Sent to the farm; her id."""
    doe = subject(barn, "doe", name)
    phone.page.context.grant_permissions(["microphone"])
    visit(phone, f"doe/{doe}/pictures")
    phone.page.get_by_label(say("pictures.her")).set_input_files(picture(120))
    expect(phone.page.locator("main img.shot")).to_be_visible()
    phone.button(say("say.start")).click()
    stop = phone.button(like("say.stop"))
    expect(stop).to_be_visible()
    phone.page.wait_for_timeout(1_500)
    stop.click()
    expect(phone.button(like("say.play"))).to_be_visible()
    phone.send_now()
    phone.all_sent()
    return doe
