"""(ii) What a tap costs the processor, against one on a bare page, and (iii) the heap after an hour of taps."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from statistics import median
from typing import Any

from playwright.sync_api import CDPSession, Page

from tests.bench.on_cpu import meter, spent
from tests.bench.openings import USABLE
from tests.bench.phone import TIMER, asked, browser, page_on, touch, until
from tests.bench.table import Row

BARE = """<!doctype html><meta name=viewport content="width=device-width"><body><script>
for (let i = 0; i < 60; i++) { const b = document.body.appendChild(document.createElement("button")); b.textContent = i;
  b.style = "height: 72px; width: 90%"; b.onclick = () => { b.textContent = "done"; }; }</script>"""
HER_PAGE = "() => location.hash.endsWith('/off') && !document.querySelector('button.ate')"
LEFT, SHEET, CLOSE, REFUSED = ".ways .left", "button.ate", "dialog[open] .back", "dialog[open] .thirds button"
PLANNED, UNDO, SLOT = ".planned button", ".toast button", ".slots button"
SETTLE_S = 1.0
Thumb = Callable[[CDPSession], Iterator[tuple[str, float]]]


def at_chores(page: Page, line: CDPSession, url: str, does: int) -> None:
    page.add_init_script(f"{USABLE}({does}, 'usable_ms')")
    page.goto(url, wait_until="commit")
    until(line, "window.usable_ms")
    time.sleep(6 * SETTLE_S)
    asked(line, f"({TIMER})()")
    touch(line, SLOT, 0)
    time.sleep(SETTLE_S)


def worked(play: Any, profile: str, url: str, sizes: tuple[int, int]) -> Iterator[Row]:
    """Processor time of the page's own thread, not slowed down: to the painted frame, and with all that follows."""
    does, taps = sizes
    with browser(play, profile) as context:
        page, line = page_on(context, 1)
        page.set_content(BARE)
        asked(line, f"({TIMER})()")
        meter(line)
        bare = [spent(line, lambda i=i: touch(line, "button", i))["TaskDuration"] for i in range(min(taps, 60))]
        page.close()
        page, line = page_on(context, 1)
        at_chores(page, line, url, does)
        meter(line)
        first, then = [], []
        for i in range(min(taps, does)):
            first.append(spent(line, lambda i=i: touch(line, LEFT, i))["TaskDuration"])
            then.append(spent(line, lambda: time.sleep(SETTLE_S))["TaskDuration"])
    tap, floor = median(first), median(bare)
    note = f"{tap / floor:.1f} x the bare page ({floor:.1f} ms); scrolling there and looking included"
    yield Row("tap", "left some, processor time at 1x", tap, "ms", note)
    yield Row("tap", "then, her pen and the rest, at 1x", median(then), "ms", "after the frame, between taps")


def heap(play: Any, profile: str, url: str, sizes: tuple[int, int]) -> Iterator[Row]:
    """Every slot of a day, doe by doe and pen by pen; rubbish is collected before each look."""
    does, taps = sizes
    with browser(play, profile) as context:
        page, line = page_on(context, 1)
        at_chores(page, line, url, does)
        before, done = counted(line), 0
        for slot in range(4):
            touch(line, SLOT, slot)
            done += round_of(line, taps // 4)
        time.sleep(6 * SETTLE_S)
        after = counted(line)
    mb, nodes, heard = zip(before, after, strict=True)
    note = f"before {mb[0] / 1e6:.1f} MB, rubbish collected"
    yield Row("heap", f"after {done} taps in four slots", mb[1] / 1e6, "MB", note)
    yield Row("heap", "nodes of the page", nodes[1], "", f"before {nodes[0]:,}; listeners {heard[0]:,} to {heard[1]:,}")


def round_of(line: CDPSession, taps: int) -> int:
    """Pens first, then does, twice round where there are taps left: the second time opens the sheet."""
    done = 0
    while done < taps and asked(line, f"document.querySelector({PLANNED!r}) !== null"):
        touch(line, PLANNED)
        done += 1
    # fed pens are folded, and a doe without a bowl at this meal has one button alone
    asked(line, "document.querySelectorAll('.pen h2 button').forEach((at) => at.click())")
    time.sleep(SETTLE_S)
    button = LEFT if asked(line, f"document.querySelectorAll({LEFT!r}).length") else SHEET
    rows_there = asked(line, f"document.querySelectorAll({button!r}).length")
    for i in range(taps - done):
        touch(line, button, i % rows_there)
        asked(line, f"document.querySelector({CLOSE!r})?.click()")
    return taps


def counted(line: CDPSession) -> tuple[int, int, int]:
    for _ in range(2):
        line.send("HeapProfiler.collectGarbage")
    used = int(line.send("Runtime.getHeapUsage")["usedSize"])
    counts = line.send("Memory.getDOMCounters")
    return used, int(counts["nodes"]), int(counts["jsEventListeners"])
