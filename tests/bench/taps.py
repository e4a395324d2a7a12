"""(ii) Tap to painted answer, against a tap on a bare page, and (iii) the heap after an hour of taps."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from statistics import median
from typing import Any

from playwright.sync_api import CDPSession, Page

from tests.bench.on_cpu import meter, spent
from tests.bench.openings import USABLE
from tests.bench.phone import SLOWER, TIMER, asked, browser, page_on, touch, until
from tests.bench.table import Row, p95

BARE = """<!doctype html><meta name=viewport content="width=device-width"><body><script>
for (let i = 0; i < 60; i++) { const b = document.body.appendChild(document.createElement("button")); b.textContent = i;
  b.style = "height: 72px; width: 90%"; b.onclick = () => { b.textContent = "done"; }; }</script>"""
HER_PAGE = "() => location.hash.endsWith('/off') && !document.querySelector('button.ate')"
LEFT, SHEET, CLOSE, REFUSED = ".ways .left", "button.ate", "dialog[open] .back", "dialog[open] .thirds button"
PLANNED, UNDO, SLOT = ".planned button", ".toast button", ".slots button"
SETTLE_S = 1.0
Thumb = Callable[[CDPSession], Iterator[tuple[str, float]]]


def rows(play: Any, profile: str, url: str, sizes: tuple[int, int], note: str) -> Iterator[Row]:
    does, taps = sizes
    with browser(play, profile) as context:
        page, line = page_on(context)
        page.set_content(BARE)
        asked(line, f"({TIMER})()")
        bare = [touch(line, "button", i) for i in range(min(taps, 60))]
        page.close()
        page, line = page_on(context)
        at_chores(page, line, url, does)
        found = told(line, does, taps)
    yield from spread("on a bare page", bare, f"the floor of this machine, {SLOWER}x")
    yield from spread("left some, one tap, to its painted prompt", found["left"], f"goal p95 50 ms; {note}", bare)
    yield from spread("opening the sheet", found["sheet"], "", bare)
    yield from spread("refused, to her painted page", found["refused"], "", bare)
    yield from spread("all as planned, a pen of ten", found["meal"], f"{len(found['meal'])} pens", bare)
    yield from spread("taking it back", found["undo"], "", bare)


def at_chores(page: Page, line: CDPSession, url: str, does: int) -> None:
    page.add_init_script(f"{USABLE}({does}, 'usable_ms')")
    page.goto(url, wait_until="commit")
    until(line, "window.usable_ms")
    time.sleep(6 * SETTLE_S)
    asked(line, f"({TIMER})()")
    touch(line, SLOT, 0)
    time.sleep(SETTLE_S)


def told(line: CDPSession, does: int, taps: int) -> dict[str, list[float]]:
    found: dict[str, list[float]] = {"left": [], "sheet": [], "refused": [], "meal": [], "undo": []}
    for i in range(min(taps, does)):
        found["left"].append(touch(line, LEFT, i))
        found["sheet"].append(touch(line, SHEET, i))
        touch(line, CLOSE)
    shown = asked(line, "document.querySelectorAll('.ways .told').length")
    if shown < len(found["left"]):
        raise RuntimeError(f"{len(found['left'])} does left some, and only {shown} show it")
    for _ in range(asked(line, f"document.querySelectorAll({PLANNED!r}).length")):
        found["meal"].append(touch(line, PLANNED))
        found["undo"].append(touch(line, UNDO))
        touch(line, PLANNED)
    # fed pens are folded: the rows of whoever left some stand
    rows_left = asked(line, f"document.querySelectorAll({SHEET!r}).length")
    for i in range(min(taps // 4 + 1, rows_left)):
        touch(line, SHEET, i)
        asked(line, f"window.shown = {HER_PAGE}")
        found["refused"].append(touch(line, REFUSED))
        asked(line, "window.shown = () => true")
        back_to_chores(line, rows_left)
    return found


def back_to_chores(line: CDPSession, rows_left: int) -> None:
    time.sleep(SETTLE_S / 2)
    asked(line, "location.hash = '#/'")
    until(line, f"document.querySelectorAll({SHEET!r}).length >= {rows_left}")
    time.sleep(SETTLE_S / 2)


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


def spread(what: str, taps: list[float], note: str, bare: list[float] | None = None) -> Iterator[Row]:
    middle, last = (f"{of(taps) / of(bare):.1f} x bare" if bare else "" for of in (median, p95))
    yield Row("tap", f"{what}, p50", median(taps), "ms", "; ".join(filter(None, (middle, note))))
    yield Row("tap", f"{what}, p95", p95(taps), "ms", "; ".join(filter(None, (last, f"slowest {max(taps):.0f}"))))
