"""What the vet gets of one doe: shared as text, copied, written out, or printed; and it waits for no data."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.places import visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
SHARES = "() => { navigator.share = ({ text }) => { window.sent = text; return Promise.resolve(); }; }"
SHARES_NOT = "() => Object.defineProperty(navigator, 'share', { value: undefined })"
COPIES = "() => { navigator.clipboard.writeText = (text) => { window.copied = text; return Promise.resolve(); }; }"
COPIES_NOT = "() => { navigator.clipboard.writeText = () => Promise.reject(new Error('no')); }"
INKS = "() => [document.body, document.querySelector('main li')].map((at) => getComputedStyle(at).color)"


def for_the_vet(name: str) -> re.Pattern[str]:
    return re.compile(rf"^{name} ?: {re.escape(say('vet.title'))}$")


@pytest.fixture
def warm(phone: Screen) -> Screen:
    """Marigold was looked at, and her page for the vet is open, three taps from chores."""
    phone.form("Marigold", "checkup")
    phone.page.get_by_label(re.compile(f"^{re.escape(say('f.temp_c_x10'))}")).first.fill("38.4")
    phone.button(say("save")).click()
    phone.at("Marigold")
    phone.link(say("vet.link")).click()
    expect(phone.heading(for_the_vet("Marigold"))).to_be_visible()
    return phone


def test_the_vet_gets_it_as_text(warm: Screen, barn: Barn) -> None:
    barn.server.freeze()
    warm.page.evaluate(SHARES)
    warm.button(say("vet.share")).click()
    expect(warm.page.get_by_text(say("share.shared"))).to_be_visible()
    text = warm.page.evaluate("() => window.sent").replace("\u00a0", " ")
    assert re.search(like("vet.day.hand", days=135), text)
    first = text.split(say("vet.aloud").upper())[1].strip().splitlines()[0]
    assert first.startswith(f"Marigold, {say('vet.aloud.doe')}; {say('how.left_some')}")
    assert re.search(r"38\.4 °C", first)
    assert say("vet.aloud.ketones_not") in first
    assert re.search(r"\d\d:\d\d: 38\.4 °C", text)
    assert re.search(like("did.left_some", pm="40 %"), text)
    assert re.search(rf"Barley grain.* {re.escape(say('vet.fed.left', g=''))}", text)
    assert re.search(like("vet.scores"), text)
    assert say("vet.vaccines") in text


def test_it_is_copied_where_nothing_can_be_shared_and_written_out_where_nothing_can_be_copied(warm: Screen) -> None:
    page = warm.page
    page.evaluate("() => { delete navigator.share; Object.defineProperty(navigator, 'share', { value: undefined }); }")
    page.evaluate(
        "() => { navigator.clipboard.writeText = (text) => { window.copied = text; return Promise.resolve(); }; }"
    )
    warm.button(say("vet.share")).click()
    expect(page.get_by_text(say("share.copied"))).to_be_visible()
    assert "Marigold" in page.evaluate("() => window.copied")
    page.evaluate(COPIES_NOT)
    warm.button(say("vet.share")).click()
    expect(page.get_by_text(say("vet.by_hand"))).to_be_visible()
    assert page.evaluate("() => window.copied") == page.locator("textarea").input_value()


def test_it_is_one_black_and_white_sheet_at_night_too(warm: Screen) -> None:
    page = warm.page
    page.evaluate("() => localStorage.setItem('mangerline.theme', 'night')")
    page.reload()
    expect(warm.heading(for_the_vet("Marigold"))).to_be_visible()
    for paper in ("A4", "Letter"):
        sheet = page.pdf(format=paper, margin=dict.fromkeys(("top", "bottom", "left", "right"), "12mm"))
        assert len(re.findall(rb"/Type\s*/Page\b", sheet)) == 1
    page.emulate_media(media="print")
    assert page.evaluate(INKS) == ["rgb(0, 0, 0)"] * 2
    assert page.evaluate("() => getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    expect(page.locator("nav")).to_be_hidden()


def test_calling_the_vet_needs_nothing_but_a_name(phone: Screen, barn: Barn) -> None:
    page = phone.page
    barn.server.freeze()
    visit(phone, "farm/doe/new")
    page.get_by_label(say("f.name"), exact=True).fill("Pimpernel")
    phone.button(say("save")).click()
    phone.doe("Pimpernel").link(say("vet.link")).click()
    expect(phone.heading(for_the_vet("Pimpernel"))).to_be_visible()
    for line in ("vet.age.unknown", "vet.none.stage", "vet.none.body"):
        expect(page.get_by_text(say(line))).to_be_visible()
    expect(phone.button(say("vet.share"))).to_be_enabled()
    expect(page.locator(".save a")).to_be_visible()
