"""A morning by Tab, Enter and Space alone, and the same morning as a screen reader hears it."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.barn import Barn
from tests.browser.rows import LEFT
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
MOST_STOPS = 150
DOE, PEN = "Tansy", "Parlour side"
RECORDED = ["correct", "fed", "freeze", "intake", "triage"]
# Where the keys are: its name, whether a frame shows it, and whether something lies over it.
HERE = """() => {
  const at = document.activeElement;
  const style = getComputedStyle(at.matches("input") ? at.closest(".choice") ?? at : at);
  const { left, right, top, bottom } = at.getBoundingClientRect();
  const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
  return {
    tag: at.tagName, name: (at.getAttribute("aria-label") ?? at.textContent).replace(/\\s+/g, " ").trim(),
    top: top + scrollY, sticks: Boolean(at.closest(".nav, .toast, .stuck, .bar, .save, .sheet")),
    framed: style.outlineStyle !== "none" && Number.parseFloat(style.outlineWidth) >= 2,
    free: at === over || at.contains(over) || over?.contains(at) === true,
  };
}"""


def step(page: Page) -> dict[str, Any]:
    page.keyboard.press("Tab")
    page.evaluate("() => new Promise(requestAnimationFrame)")
    return dict(page.evaluate(HERE))


def tab_to(page: Page, name: str | re.Pattern[str]) -> list[dict[str, Any]]:
    """By Tab as far as NAME; every stop on the way."""
    stops: list[dict[str, Any]] = []
    for _ in range(MOST_STOPS):
        stops.append(step(page))
        found = stops[-1]["name"]
        if found == name if isinstance(name, str) else name.search(found):
            return stops
    raise AssertionError(f"not reached in {MOST_STOPS} stops: {name}; {[one['name'] for one in stops]}")


def sound(stops: list[dict[str, Any]]) -> None:
    """Each stop is framed, lies under nothing and has a name, and the walk goes down the page."""
    shown = [one for one in stops if one["tag"] != "BODY"]
    assert [one["name"] for one in shown if not one["framed"]] == []
    assert [one for one in shown if not one["free"]] == []
    assert [one for one in shown if not one["name"]] == []
    tops = [one["top"] for one in shown if not one["sticks"]]
    assert [(a, b) for a, b in zip(tops, tops[1:], strict=False) if b < a - 80] == []


def test_a_morning_by_keys_alone(barn: Barn, phone: Screen) -> None:
    page = phone.page
    before = len(barn.log())
    barn.server.stop()
    page.reload()
    expect(phone.heading(say("chores"))).to_be_visible()
    sound(tab_to(page, say("slot.evening")))
    page.keyboard.press("Enter")
    expect(phone.button(say("slot.evening"))).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".pen")).to_have_count(5)

    sound(tab_to(page, f"{LEFT}: {DOE}"))
    page.keyboard.press("Enter")
    expect(page.locator(".sr[role=status]")).to_contain_text(like("saved"))
    sound(tab_to(page, say("ate.share.50")))
    page.keyboard.press("Space")
    told = re.compile(f"{re.escape(say('did.left_some', pm='50 %'))}: {DOE}".replace("\\ ", r"\s"))
    expect(phone.button(told)).to_be_visible()
    page.wait_for_function("(name) => document.activeElement.closest('.doe-row')?.innerText.startsWith(name)", arg=DOE)

    page.keyboard.press("Shift+Tab")
    sound(tab_to(page, re.compile(f"^{DOE}: ")))
    opener = page.evaluate(HERE)["name"]
    page.keyboard.press("Enter")
    sheet = page.get_by_role("dialog")
    expect(sheet).to_be_visible()
    for _ in range(15):
        step(page)
        assert page.evaluate("() => document.querySelector('dialog[open]').contains(document.activeElement)")
    page.keyboard.press("Escape")
    expect(sheet).to_have_count(0)
    page.wait_for_function("(name) => document.activeElement.getAttribute('aria-label') === name", arg=opener)

    sound(tab_to(page, re.compile(f"{re.escape(say('pen.all'))}\\s*{PEN}")))
    page.keyboard.press("Enter")
    expect(page.locator(".pen .fed", has_text=PEN)).to_be_visible()
    page.wait_for_function("(pen) => document.activeElement.closest('.pen')?.innerText.startsWith(pen)", arg=PEN)

    barn.server.start()
    phone.send_now()
    phone.all_sent()
    assert {"intake", "correct", "fed"} <= set(barn.added(before))


ACTS = ("button", "link", "textbox", "combobox", "checkbox", "radio", "menuitem", "searchbox")


def heard(page: Page) -> list[dict[str, Any]]:
    """What the browser tells a screen reader, in order: role, name, states."""
    tree = page.context.new_cdp_session(page).send("Accessibility.getFullAXTree")["nodes"]
    told = [node for node in tree if not node["ignored"] and "role" in node]
    return [
        {
            "role": node["role"]["value"],
            "name": " ".join(str(node.get("name", {}).get("value", "")).split()),
            **{one["name"]: one["value"].get("value") for one in node.get("properties", [])},
        }
        for node in told
    ]


def of(told: list[dict[str, Any]], *roles: str) -> list[str]:
    return [node["name"] for node in told if node["role"] in roles]


def test_the_same_morning_as_it_is_heard(phone: Screen) -> None:
    page = phone.page
    phone.chores("evening")
    expect(page.locator(".pen")).to_have_count(5)
    told = heard(page)
    names = of(told, *ACTS)
    assert "" not in names
    twice = sorted({name for name in names if names.count(name) > 1})
    assert twice == [], "two acts that sound the same"
    assert of(told, "heading")[:1] == [say("chores")]
    assert {"Parlour side", "Long feeder", "Straw barn", "Young pen"} <= set(of(told, "heading"))
    assert say("nav") in of(told, "navigation")
    assert [node["name"] for node in told if node.get("pressed") == "true"] == [say("slot.evening")]

    phone.button(f"{LEFT}: Mallow").click()
    expect(page.get_by_role("status").first).to_contain_text(like("saved"))
    group = [name for name in of(heard(page), "group") if name.startswith(say("ate.how_much"))]
    assert group == [f"{say('ate.how_much')} Mallow"]
    phone.button(re.compile(r"^Fennel: ")).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    page.wait_for_function("() => document.querySelector('main').closest('[inert]') !== null")
    told = heard(page)
    dialog = next(node for node in told if node["role"] == "dialog")
    assert "Fennel" in dialog["name"]
    assert dialog["modal"]
    assert f"{LEFT}: Mallow" not in of(told, *ACTS), "what lies behind the sheet is not heard"
