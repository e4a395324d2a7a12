"""What can be done about a feed prompt: from her page to the act, the longest stretch of work, and a tap beside it; as
the phone works it ahead while it is idle, and with that switched off."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import CDPSession, sync_playwright

from tests.bench.blank import blank_server
from tests.bench.ground import farm_of
from tests.bench.in_browser import fetch
from tests.bench.on_cpu import meter, spent
from tests.bench.openings import USABLE
from tests.bench.phone import SLOWER, TIMER, asked, browser, page_on, touch, until
from tests.bench.table import Row, p95

# When the search began and ended, as it is seen on her page; tasks of 50 ms and more meanwhile.
WATCH = """() => {
  window.search = {};
  window.long = [];
  new PerformanceObserver((list) => window.long.push(...list.getEntries().map((e) => [e.startTime, e.duration])))
    .observe({ type: "longtask" });
  const look = () => {
    const acts = document.querySelector(".acts");
    const busy = acts?.getAttribute("aria-busy");
    if (busy === "true" && !window.search.began) window.search = { began: performance.now() };
    if (busy === "false" && !window.search.began) window.search = { began: performance.now(), kept: true };
    if (busy === "false" && !window.search.ended) window.search.ended = performance.now();
    requestAnimationFrame(look);
  };
  look();
}"""
# A browser that is never idle works nothing ahead; one that counts tells whether it is at it.
NEVER_IDLE = "window.idles = 0; window.requestIdleCallback = () => 0;"
COUNTED = """window.idles = 0; const ask = window.requestIdleCallback.bind(window);
window.requestIdleCallback = (...given) => { window.idles++; return ask(...given); };"""
SUMMARY, LEFT = "main > section details > summary", ".ways .left"
SLICE_MS, GOAL_MS, BESIDE_MS = 50.0, 1500.0, 10.0
# Longer than a phone waits before it works ahead, and never the same, so that a tap falls anywhere in it.
PAUSES_S = (2.1, 2.35, 2.6, 2.2, 2.5, 2.8)


@dataclass
class Walk:
    """Her page, newly opened, doe by doe."""

    found: list[float] = field(default_factory=list)
    long: list[float] = field(default_factory=list)
    beside: list[float] = field(default_factory=list)
    quiet: list[float] = field(default_factory=list)


def rows(does: int, days: int, taps: int) -> Iterator[Row]:
    with ExitStack() as stack:
        server = stack.enter_context(farm_of(does, days))
        profile = stack.enter_context(TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True))
        play, blank = stack.enter_context(sync_playwright()), stack.enter_context(blank_server())
        with server, browser(play, profile) as context:
            fetch(context, server, blank)
        with opened(play, profile, server.url, does, NEVER_IDLE, 1) as line:
            on_cpu = worked(line, does)
        walks, tapped = {}, {}
        for name, script in (("asked", NEVER_IDLE), ("ahead", COUNTED)):
            with opened(play, profile, server.url, does, script) as line:
                walks[name] = walked(line, does)
        for name, script in (("without", NEVER_IDLE), ("with", COUNTED)):
            with opened(play, profile, server.url, does, script) as line:
                tapped[name] = tapped_on(line, min(taps, does)), asked(line, "window.idles")
    note = "her page and the search, processor time, not slowed down: holds on a busy machine"
    yield Row("act", "from her page to what would do it, on the CPU, p50", median(on_cpu), "ms", note)
    most = f"slowest {max(on_cpu):.0f}; goal {GOAL_MS / SLOWER:.0f}"
    yield Row("act", "from her page to what would do it, on the CPU, p95", p95(on_cpu), "ms", most)
    yield from of_walks(walks["asked"], walks["ahead"])
    yield from of_taps(*tapped["without"], *tapped["with"])


@contextmanager
def opened(play: Any, profile: str, url: str, does: int, script: str, slower: int = SLOWER) -> Iterator[CDPSession]:
    with browser(play, profile) as context:
        page, line = page_on(context, slower)
        page.add_init_script(f"{script} {USABLE}({does}, 'usable_ms')")
        page.goto(url, wait_until="commit")
        until(line, "window.usable_ms")
        asked(line, f"({TIMER})()")
        asked(line, f"({WATCH})()")
        yield line


def walked(line: CDPSession, does: int) -> Walk:
    walk = Walk()
    for i in range(does):
        if not page_of(line, i, does):
            continue
        tapped = touch(line, SUMMARY)
        if asked(line, "!window.search.ended"):
            walk.beside.append(tapped)
        until(line, "window.search.ended")
        began, ended = asked(line, "[window.search.began, window.search.ended]")
        walk.found.append(ended - began)
        walk.long += [ms for at, ms in asked(line, "window.long") if began <= at <= ended]
        walk.quiet.append(touch(line, SUMMARY))
    if not walk.found:
        raise RuntimeError("nobody on this farm is told anything an act could answer")
    return walk


def worked(line: CDPSession, does: int) -> list[float]:
    meter(line)
    found = []

    def page(i: int) -> None:
        if page_of(line, i, does):
            until(line, "window.search.ended")

    for i in range(does):
        taken = spent(line, lambda i=i: page(i))["TaskDuration"]
        if asked(line, "Boolean(window.search.began)"):
            found.append(taken)
    return found


def page_of(line: CDPSession, place: int, does: int) -> bool:
    """Her page, newly opened; whether anything is searched for on it."""
    asked(line, "location.hash = '#/'")
    until(line, f"document.querySelectorAll('li.doe-row > a').length >= {does}")
    asked(line, "window.search = {}; window.long = []")
    asked(line, f"location.hash = document.querySelectorAll('li.doe-row > a')[{place}].getAttribute('href')")
    until(line, f"document.querySelector({SUMMARY!r}) !== null")
    return bool(asked(line, "document.querySelector('.acts') !== null"))


def tapped_on(line: CDPSession, taps: int) -> list[float]:
    """A doe that left some, and so long a pause that the phone is in the middle of its work at the next."""
    found = []
    for i in range(taps):
        time.sleep(PAUSES_S[i % len(PAUSES_S)])
        found.append(touch(line, LEFT, i))
    return found


def of_walks(alone: Walk, ahead: Walk) -> Iterator[Row]:
    note = f"{len(alone.found)} does, {SLOWER}x, nothing worked ahead"
    yield Row("act", "from her page to what would do it, p50", median(alone.found), "ms", note)
    most = f"slowest {max(alone.found):.0f}; goal {GOAL_MS:,.0f}"
    yield Row("act", "from her page to what would do it, p95", p95(alone.found), "ms", most)
    for what, of in (("p50", median), ("p95", p95)):
        part = f"{of(ahead.found) / of(alone.found):.2f} x without; slowest {max(ahead.found):.0f}"
        yield Row("act", f"the same, worked ahead when idle, {what}", of(ahead.found), "ms", part)
    long = alone.long + ahead.long
    yield Row("act", "longest stretch of work", max(long, default=0.0), "ms", f"0: none of {SLICE_MS:.0f} ms and more")
    searched = sum(alone.found + ahead.found) / 1000
    yield Row("act", "stretches of 50 ms and more", len(long), "", f"in {searched:.0f} s of searching")
    beside, quiet = alone.beside + ahead.beside, alone.quiet + ahead.quiet
    for what, taps in (("while it searches", beside), ("on the same pages afterwards", quiet)):
        if taps:
            yield Row("act", f"a tap on her page {what}, p50", median(taps), "ms", f"{len(taps)} taps")
            yield Row("act", f"a tap on her page {what}, p95", p95(taps), "ms", f"slowest {max(taps):.0f}")


def of_taps(without: list[float], never: int, searching: list[float], idles: int) -> Iterator[Row]:
    yield Row("act", "left some, with nothing worked ahead, p95", p95(without), "ms", f"{len(without)} taps, {never}")
    more = p95(searching) - p95(without)
    note = (
        f"{more:+.0f} ms, goal {BESIDE_MS:.0f}; p50 {median(searching) - median(without):+.0f} ms; {idles} idle times"
    )
    yield Row("act", "left some, in the middle of working ahead, p95", p95(searching), "ms", note)
