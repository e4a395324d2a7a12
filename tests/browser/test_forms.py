"""A value that cannot be is met with what to do about it; what was typed stays; nothing is recorded."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
DOE = "Yarrow"


@pytest.fixture(scope="module")
def phone(browser: Browser, browser_context_args: dict[str, Any], demo_barn: Barn) -> Iterator[Screen]:
    """One signed-in phone for all of this file: nothing here may record anything."""
    context = browser.new_context(**browser_context_args)
    screen = Screen(context.new_page(), demo_barn.server.url)
    yield screen.sign_in("Jory", demo_barn.passwords["Jory"])
    context.close()


@pytest.mark.parametrize(
    ("form", "field", "typed", "fault"),
    [
        ("weight", "f.g", "9999", "bad.range"),
        ("weight", "f.g", "heavy", "bad.number"),
        ("weight", "f.g", "", "bad.missing.number"),
        ("milk", "f.milk_g", "-3", "bad.range"),
        ("milk", "f.milk_g", "400", "bad.range"),
        ("bred", "f.bred_on", "2999-01-01", "bad.future"),
        ("dried_off", "f.on", "", "bad.missing.date"),
        ("note", "f.text", "", "bad.missing.long"),
        ("edit", "f.name", "", "bad.missing.text"),
        ("edit", "f.name", "x" * 60, "bad.too_long"),
    ],
)
def test_an_impossible_value_is_explained_and_kept(
    barn: Barn, phone: Screen, form: str, field: str, typed: str, fault: str
) -> None:
    before = len(barn.log())
    phone.form(DOE, form)
    box = phone.page.get_by_label(re.compile(f"^{re.escape(say(field))}")).first
    box.fill(typed)
    phone.button(say("save")).click()
    alert = phone.page.get_by_role("alert")
    expect(alert).to_be_visible()
    expect(alert).to_have_text(like(fault))
    expect(box).to_have_value(typed)
    expect(box).to_have_attribute("aria-invalid", "true")
    expect(box).to_be_focused()
    assert alert.get_attribute("id") in (box.get_attribute("aria-describedby") or "").split()
    assert barn.log()[before:] == []
