"""Who has other colours, print twice as large, no pointer or no wish to see things move, sees and does the same."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.browser.barn import Barn
from tests.browser.measures import clipped, spilled, too_wide
from tests.browser.places import PAINTED, Walkers
from tests.browser.sitters import walkers
from tests.support.thorough import THOROUGH
from tests.support.words import LANGUAGES, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
NARROWEST = (320, 640)
# 36 px for what is 16 in most browsers.
PRINT = "(size) => { document.documentElement.style.fontSize = size; }"


@pytest.fixture(scope="module")
def opened(browser: Browser, browser_context_args: dict[str, Any], demo_barn: Barn) -> Iterator[Callable[..., Walkers]]:
    """Signed-in phones that record nothing but the days of a pack, in browsers set as somebody has set theirs."""
    made: list[BrowserContext] = []

    def signed_in(**settings: Any) -> Walkers:
        def new() -> BrowserContext:
            made.append(browser.new_context(**browser_context_args, **settings))
            return made[-1]

        return walkers(demo_barn, new)

    yield signed_in
    for context in made:
        context.close()


# A drawing that keeps its colours is lost on the dark ground first, and the longer words break first; every other
# screen of each a day.
@pytest.mark.parametrize("scheme", ["light", "dark"] if THOROUGH else ["dark"])
def test_forced_colours_keep_what_is_chosen_and_what_is_drawn_and_nothing_moves(
    opened: Callable[..., Walkers], scheme: str
) -> None:
    phones = opened(forced_colors="active", color_scheme=scheme, reduced_motion="reduce")
    alike, unseen, moving, chosen = {}, {}, {}, 0
    for page, name in phones.walk(half=0):
        found = page.evaluate(CHOSEN)
        chosen += found["chosen"]
        if found["alike"]:
            alike[name] = found["alike"]
        if faint := page.evaluate(UNSEEN):
            unseen[name] = faint
        if moved := page.evaluate(MOVING):
            moving[name] = moved
    print(f"{scheme}: {chosen} chosen")
    assert chosen > 100
    assert (alike, unseen, moving) == ({}, {}, {})


@pytest.mark.parametrize("language", LANGUAGES if THOROUGH else ["es"])
def test_the_narrowest_phone_breaks_no_word_in_print_twice_as_large_either(
    opened: Callable[..., Walkers], language: str
) -> None:
    phones = opened()
    phones.size(*NARROWEST)
    told = []
    with speaking(language):
        phones.dress("day")
        for page, name in phones.walk(half=1):
            told += [f"{name}: {what}" for what in (*too_wide(page), *clipped(page))]
            page.evaluate(PRINT, "225%")
            page.evaluate(PAINTED)
            told += [f"{name}, large: {what}" for what in cut(page)]
            page.evaluate(PRINT, "")
    assert not told, "\n".join(told)


def cut(page: Page) -> list[str]:
    return [*too_wide(page), *clipped(page), *spilled(page)]


# What is chosen, and another one beside it that is not: their grounds, frames and letters must differ.
CHOSEN = """() => {
  const LOOKS = ["backgroundColor", "borderColor", "borderWidth", "outlineStyle", "color", "content"];
  const box = (at) => at.matches("input") ? at.closest(".choice") ?? at : at;
  const on = (at) => at.matches("input") ? at.checked : ["true", "page"].includes(
    at.getAttribute("aria-pressed") ?? at.getAttribute("aria-current") ?? at.getAttribute("aria-selected") ??
    at.getAttribute("aria-checked"));
  const look = (at) => {
    const of = (pseudo) => {
      const style = getComputedStyle(at, pseudo);
      return LOOKS.map((one) => style[one]);
    };
    return JSON.stringify([of(null), of("::after")]);
  };
  const states = "[aria-pressed], [aria-selected], [aria-checked]";
  const kinds = `${states}, nav a, .list a, input[type=radio], input[type=checkbox]`;
  const all = [...document.querySelectorAll(kinds)].filter((at) => box(at).checkVisibility());
  const chosen = all.filter(on);
  const near = (at) => {
    for (let around = box(at).parentElement; around; around = around.parentElement) {
      const others = all.filter((one) => around.contains(one) && !on(one) && one.tagName === at.tagName);
      if (others.length) return others[0];
    }
    return null;
  };
  const alike = chosen.filter((at) => {
    const other = near(at);
    return other && look(box(at)) === look(box(other));
  });
  return { chosen: chosen.length, alike: alike.map((at) => box(at).innerText || at.id) };
}"""
MOVING = """() => {
  const seconds = (text) => Math.max(...text.split(",").map(Number.parseFloat));
  const all = [document.documentElement, ...document.querySelectorAll("body *")].filter((at) => {
    const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(at);
    return seconds(transitionDuration) > 0 || animationName !== "none" || scrollBehavior === "smooth";
  });
  return [...document.getAnimations().map(String), ...all.map((at) => at.outerHTML.slice(0, 60))];
}"""
# What is drawn must stand out from the ground, which a browser does not change for a drawing.
UNSEEN = """() => {
  const light = (rgb) => {
    const [r, g, b, a = 1] = rgb.match(/[\\d.]+/g).map(Number);
    const part = (c) => (c / 255 <= 0.04045 ? c / 255 / 12.92 : ((c / 255 + 0.055) / 1.055) ** 2.4);
    return a < 0.5 ? null : 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const ground = (at) => {
    for (let one = at; one; one = one.parentElement) {
      const found = light(getComputedStyle(one).backgroundColor);
      if (found !== null) return found;
    }
    return light(getComputedStyle(document.documentElement).backgroundColor) ?? 1;
  };
  const ratio = (a, b) => (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
  const stands = (at, behind) => ["stroke", "fill"].some((how) => {
    const colour = getComputedStyle(at)[how];
    const own = colour === "none" ? null : light(colour);
    return own !== null && ratio(own, behind) >= 3;
  });
  const shown = (at) => at.checkVisibility() && at.getBBox().width + at.getBBox().height > 4;
  const drawings = [...document.querySelectorAll("svg")].filter((at) => at.checkVisibility() && at.clientWidth > 8);
  return drawings.filter((svg) => {
    const behind = ground(svg.parentElement);
    const strokes = [...svg.querySelectorAll("path, circle, rect, line, text")].filter(shown);
    return strokes.length && !strokes.some((at) => stands(at, behind));
  }).map(({ parentElement: at }) => `in ${at.className}: ${at.innerText.slice(0, 20)}`);
}"""
