"""(i) What a cold open without a server costs the processor, against a page with nothing on it."""

from __future__ import annotations

import time
from collections.abc import Iterator
from statistics import median
from typing import Any

from playwright.sync_api import BrowserContext

from tests.bench.on_cpu import meter, spent
from tests.bench.phone import browser, page_on, until
from tests.bench.table import Row

REST_S = 6.0
# Runs before the page's own code: notes when the first rows, and when the last of them, have been painted.
USABLE = """((rows, name) => {
  const painted = () => requestAnimationFrame(() => { const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => { window[name] = performance.now(); }; port2.postMessage(0); });
  const seen = () => document.body && document.querySelectorAll("button.ate").length >= rows;
  const watch = new MutationObserver(() => { if (seen()) { watch.disconnect(); painted(); } });
  watch.observe(document, { childList: true, subtree: true });
})"""


def worked(play: Any, profile: str, urls: tuple[str, str], sizes: tuple[int, int]) -> Iterator[Row]:
    """Of the page's own thread, not slowed down. `urls`: the app and the blank page; `sizes`: does and openings."""
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
