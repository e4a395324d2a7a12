"""No name out of the code stands on the screens that explain: rules, why, the reference, a laboratory report."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.places import NUTRIENTS, addresses, dress, visit
from tests.browser.screen import Screen
from tests.support.words import LANGUAGES, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
RAW = re.compile(r"\b[a-z][a-z0-9]*_[a-z0-9_]+|\bpermille\b|\w pm\b|\bx100\b|how-manieth|\bundefined\b|\bNaN\b")
LINK = re.compile(r"https?://\S+")
TABLES = ("rules", "numbers", "feeds", "sources", "distances", "feed/alfalfa_hay_mid")
TOPICS = """() => [...document.querySelectorAll("main a[href^='#/reference/']")].map((a) => a.hash.slice(2))"""
TEXT = "() => document.querySelector('main').textContent"


def read(phone: Screen, address: str) -> str:
    visit(phone, address)
    expect(phone.page.locator("main")).not_to_have_text(re.compile(r"^\s*$"))
    return LINK.sub("", str(phone.page.evaluate(TEXT)))


def test_the_screens_that_explain_say_it_in_words(barn: Barn, phone: Screen) -> None:
    at = addresses(barn)
    known = [name for name in at if name.startswith(("farm rules", "farm lots/new/lab"))]
    places = [at[name] for name in (*known, *(f"doe why {key}" for key in NUTRIENTS), "doe why with little")]
    for language in LANGUAGES:
        with speaking(language):
            visit(phone, "")
            dress(phone.page, "day")
            read(phone, "reference")
            topics = phone.page.evaluate(TOPICS)
            assert len(topics) > 25
            for address in (*places, *(f"reference/{table}" for table in TABLES), *topics):
                assert RAW.findall(read(phone, address)) == [], f"{language} {address}"
