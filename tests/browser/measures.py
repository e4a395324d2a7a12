"""Measurements made by the browser on the page that is open."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from playwright.sync_api import Page, ViewportSize

SIZE: ViewportSize = {"width": 360, "height": 740}
NARROWEST: ViewportSize = {"width": 320, "height": 640}
GLOVE_PX = 60
WCAG = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


@dataclass(frozen=True)
class Checked:
    """What axe found wrong, and the contrast of every text it could judge: [ratio, selector]."""

    wrong: list[str]
    unsure: list[str]
    contrasts: list[tuple[float, str]]


def check(page: Page) -> Checked:
    if not page.evaluate("() => Boolean(window.axe)"):
        page.evaluate(axe())
    found = page.evaluate(RUN, WCAG)
    return Checked(found["wrong"], found["unsure"], [(ratio, at) for ratio, at in found["contrasts"]])


@cache
def axe() -> str:
    spec = find_spec("axe_playwright_python")
    origin = spec.origin if spec else None
    assert origin, "axe-playwright-python is not installed"
    return next(Path(origin).parent.rglob("axe.min.js")).read_text()


def targets(page: Page) -> list[dict[str, Any]]:
    """Everything that can be tapped: its name, its height and width in CSS pixels."""
    return list(page.evaluate(TARGETS))


def too_wide(page: Page) -> list[str]:
    """What reaches past the right edge, if the page can be scrolled sideways."""
    return list(page.evaluate(TOO_WIDE))


def clipped(page: Page) -> list[str]:
    """Texts cut off by the box they stand in."""
    return list(page.evaluate(CLIPPED))


def spilled(page: Page) -> list[str]:
    """Buttons whose words reach over their own edge, and words broken in two without a hyphen."""
    return list(page.evaluate(SPILLED))


def wrong(page: Page) -> list[str]:
    """On the usual phone and on the narrowest."""
    low = [str(one) for one in targets(page) if one["height"] < GLOVE_PX - 0.5]
    told = [*check(page).wrong, *low, *too_wide(page), *clipped(page)]
    page.set_viewport_size(NARROWEST)
    told += [f"narrow: {what}" for what in (*too_wide(page), *clipped(page))]
    page.set_viewport_size(SIZE)
    return told


RUN = """async (tags) => {
  // What lies under a button or card that sticks to the foot is scrolled free by a thumb; axe sees only one screenful.
  const [stuck, top] = [[...document.querySelectorAll(".save, .guide, .bar")], scrollY];
  stuck.forEach((at) => (at.style.position = "static"));
  // A row out of sight has a guessed height until it is drawn, and its words would seem to lie over what comes next.
  const rows = [...document.querySelectorAll(".pen, .doe-row")];
  rows.forEach((at) => (at.style.contentVisibility = "visible"));
  const { violations, incomplete, passes } = await axe.run(document, {
    runOnly: tags, resultTypes: ["violations", "incomplete", "passes"],
  });
  stuck.forEach((at) => (at.style.position = ""));
  rows.forEach((at) => (at.style.contentVisibility = ""));
  scrollTo(0, top);
  const said = (results) => results.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target}`));
  const judged = passes.filter(({ id }) => id === "color-contrast").flatMap(({ nodes }) => nodes);
  return {
    wrong: said(violations), unsure: said(incomplete),
    contrasts: judged.flatMap(({ target, any }) => any.filter(({ data }) => data?.contrastRatio)
      .map(({ data }) => [data.contrastRatio, String(target)])),
  };
}"""

TARGETS = """() => {
  const tapped = [...document.querySelectorAll("a[href], button, summary, select, textarea, input, label:has(input)")];
  const own = tapped.filter((at) => !(at.matches("input") && at.closest("label")));
  const shown = own.filter((at) => at.checkVisibility({ visibilityProperty: true }) && at.getClientRects().length);
  return shown.map((at) => {
    const { width, height } = at.getBoundingClientRect();
    const name = (at.getAttribute("aria-label") ?? at.innerText ?? at.id).trim().slice(0, 40) || at.id;
    return { name: `${at.tagName.toLowerCase()} ${name}`, width, height };
  });
}"""

TOO_WIDE = """() => {
  const edge = document.documentElement.clientWidth;
  if (document.documentElement.scrollWidth <= edge) return [];
  const past = [...document.querySelectorAll("main *, header *, nav *")].filter((at) => {
    const { left, right } = at.getBoundingClientRect();
    return right > edge + 1 && right > left && !at.closest(".sr");
  });
  const name = (at) => `${at.tagName} ${at.getAttribute("class") ?? ""} ${(at.innerText ?? "").slice(0, 30)}`;
  return [`${document.documentElement.scrollWidth} px of ${edge}`, ...past.slice(0, 4).map(name)];
}"""

SPILLED = """() => {
  const shown = (at) => at.checkVisibility() && !at.closest(".sr");
  const over = [...document.querySelectorAll("button, a.btn, select, .btn:not(:has(input))")]
    .filter((at) => shown(at) && (at.scrollWidth > at.clientWidth + 1 || at.scrollHeight > at.clientHeight + 2));
  const range = document.createRange();
  // A word that may break says so itself, by a soft hyphen.
  const words = ({ textContent: text }) => text.includes("\u00ad") ? [] : [...text.matchAll(/[\\p{L}\\p{N}]{2,}/gu)];
  const broken = (node) => words(node).some(({ 0: word, index }) => {
    range.setStart(node, index);
    range.setEnd(node, index + word.length);
    const drawn = [...range.getClientRects()].filter(({ width }) => width > 1);
    return new Set(drawn.map(({ top }) => Math.round(top))).size > 1;
  });
  const split = [...document.querySelectorAll("h1, h2, h3, .btn, nav a, b, output")].filter((at) => shown(at) &&
    [...at.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && broken(node)));
  const said = (what, list) => list.map((at) => `${what}: ${at.innerText.slice(0, 40)}`);
  return [...said("over its edge", over), ...said("broken", split)];
}"""

CLIPPED = """() => [...document.querySelectorAll("main *, header *, nav *, dialog *")].filter((at) => {
  const style = getComputedStyle(at);
  const hides = style.overflowX === "hidden" || style.overflowY === "hidden" || style.textOverflow === "ellipsis";
  const text = [...at.childNodes].some((node) => node.nodeType === Node.TEXT_NODE && node.textContent.trim());
  const cut = at.scrollWidth > at.clientWidth + 1 || at.scrollHeight > at.clientHeight + 1;
  return text && hides && cut && !at.closest(".sr") && at.checkVisibility();
}).map((at) => at.innerText.slice(0, 40))"""
