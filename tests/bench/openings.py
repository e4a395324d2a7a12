"""(i) Cold open without a server, against a page with nothing on it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from statistics import median
from typing import Any

from playwright.sync_api import BrowserContext

from tests.bench.on_cpu import meter, spent
from tests.bench.phone import SLOWER, asked, browser, page_on, until
from tests.bench.table import Row

FIRST_ROWS = 4
REST_S = 6.0
# Every look costs the page something too.
SELDOM_S = 0.5
# Runs before the page's own code: notes when the first rows, and when the last of them, have been painted.
USABLE = """((rows, name) => {
  const painted = () => requestAnimationFrame(() => { const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => { window[name] = performance.now(); }; port2.postMessage(0); });
  const seen = () => document.body && document.querySelectorAll("button.ate").length >= rows;
  const watch = new MutationObserver(() => { if (seen()) { watch.disconnect(); painted(); } });
  watch.observe(document, { childList: true, subtree: true });
})"""
BLOCKED = """new PerformanceObserver((seen) => seen.getEntries().forEach(({ duration }) =>
  (window.longest = Math.max(window.longest ?? 0, duration)))).observe({ type: "longtask", buffered: true });"""
Opening = dict[str, float]


def rows(play: Any, profile: str, urls: tuple[str, str], sizes: tuple[int, int], note: str) -> Iterator[Row]:
    """`urls`: the app and the blank page; `sizes`: does and openings."""
    (does, opens), seen, nothing = sizes, [], []
    for _ in range(opens):
        with browser(play, profile) as context:
            nothing.append(opened(context, urls[1], 0))
            seen.append(opened(context, urls[0], does))
    app = {name: median(one[name] for one in seen) for name in seen[0]}
    blank = median(one["all"] for one in nothing)
    yield Row("open", "blank cached page, median", blank, "ms", f"{opens} starts of the browser, {SLOWER}x")
    first, last = (f"{app[name] / blank:.1f} x blank" for name in ("first", "all"))
    yield Row(
        "open", "cold, no server, to the first rows, median", app["first"], "ms", f"{first}; what a thumb can reach"
    )
    yield Row("open", "cold, no server, to usable list, median", app["all"], "ms", f"{last}; {note}")
    yield Row("open", "the slowest of them", max(one["all"] for one in seen), "ms", "goal 1,000 ms")
    yield Row("open", "longest task until at rest, median", app["longest"], "ms", f"taps wait no longer, {SLOWER}x")


def opened(context: BrowserContext, url: str, does: int) -> Opening:
    page, line = page_on(context)
    for count, name in ((min(FIRST_ROWS, does), "first_ms"), (does, "usable_ms")):
        page.add_init_script(f"{USABLE}({count}, '{name}')")
    page.goto(url, wait_until="commit")
    usable = float(until(line, "window.usable_ms", SELDOM_S))
    first = float(asked(line, "window.first_ms"))
    if not does:
        return {"first": first, "all": usable, "longest": 0.0}
    asked(line, BLOCKED)
    time.sleep(REST_S)
    return {"first": first, "all": usable, "longest": float(asked(line, "window.longest ?? 0"))}


def worked(play: Any, profile: str, urls: tuple[str, str], sizes: tuple[int, int]) -> Iterator[Row]:
    """The same as processor time of the page's own thread, not slowed down: it holds on a busy machine too."""
    does, opens = sizes
    ms: dict[str, list[float]] = {"blank": [], "app": [], "rest": []}
    for _ in range(opens):
        with browser(play, profile) as context:
            ms["blank"].append(on_cpu(context, urls[1], 0)[0])
            usable, rest = on_cpu(context, urls[0], does)
            ms["app"].append(usable)
            ms["rest"].append(rest)
    blank, app, rest = (median(ms[name]) for name in ("blank", "app", "rest"))
    note = f"{app / blank:.1f} x blank ({blank:.0f} ms)"
    yield Row("open", "to usable list, processor time at 1x", app, "ms", note)
    yield Row(
        "open", "then, until at rest, processor time at 1x", rest, "ms", "reading, folding, judging, between taps"
    )


def on_cpu(context: BrowserContext, url: str, does: int) -> tuple[float, float]:
    page, line = page_on(context, 1)
    page.add_init_script(f"{USABLE}({does}, 'usable_ms')")
    meter(line)

    def open_it() -> None:
        page.goto(url, wait_until="commit")
        until(line, "window.usable_ms")

    return spent(line, open_it)["TaskDuration"], spent(line, lambda: time.sleep(REST_S))["TaskDuration"]
