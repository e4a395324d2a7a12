"""What can be done about a feed prompt: from her page to the act, the longest stretch of work, and a tap beside it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from statistics import median
from tempfile import TemporaryDirectory

from playwright.sync_api import CDPSession, sync_playwright

from tests.bench.blank import blank_server
from tests.bench.ground import farm_of
from tests.bench.in_browser import fetch
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
    if (busy === "false" && window.search.began && !window.search.ended) window.search.ended = performance.now();
    requestAnimationFrame(look);
  };
  look();
}"""
SUMMARY = "main > section details > summary"
SLICE_MS = 50.0


def rows(does: int, days: int) -> Iterator[Row]:
    with ExitStack() as stack:
        server = stack.enter_context(farm_of(does, days))
        profile = stack.enter_context(TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True))
        play, blank = stack.enter_context(sync_playwright()), stack.enter_context(blank_server())
        with server, browser(play, profile) as context:
            fetch(context, server, blank)
        with browser(play, profile) as context:
            page, line = page_on(context)
            page.add_init_script(f"{USABLE}({does}, 'usable_ms')")
            page.goto(server.url, wait_until="commit")
            until(line, "window.usable_ms")
            asked(line, f"({TIMER})()")
            asked(line, f"({WATCH})()")
            yield from measured(line, does)


def measured(line: CDPSession, does: int) -> Iterator[Row]:
    found, long, beside, quiet = [], [], [], []
    for i in range(does):
        opened = page_of(line, i, does)
        if not opened:
            continue
        tapped = touch(line, SUMMARY)
        if asked(line, "!window.search.ended"):
            beside.append(tapped)
        until(line, "window.search.ended")
        began, ended = asked(line, "[window.search.began, window.search.ended]")
        found.append(ended - began)
        long += [ms for at, ms in asked(line, "window.long") if began <= at <= ended]
        quiet.append(touch(line, SUMMARY))
    if not found:
        raise RuntimeError("nobody on this farm is told anything an act could answer")
    note = f"{len(found)} does, {SLOWER}x, a tap in each"
    yield Row("act", "from her page to what would do it, p50", median(found), "ms", note)
    yield Row(
        "act", "from her page to what would do it, p95", p95(found), "ms", f"slowest {max(found):.0f}; goal 1,500"
    )
    slowest = max(long, default=0.0)
    yield Row("act", "longest stretch of work meanwhile", slowest, "ms", f"0: none of {SLICE_MS:.0f} ms and more")
    yield Row("act", "stretches of 50 ms and more", len(long), "", f"in {sum(found) / 1000:.0f} s of searching")
    for what, taps in (("while it searches", beside), ("on the same pages afterwards", quiet)):
        if taps:
            yield Row("act", f"a tap {what}, p50", median(taps), "ms", f"{len(taps)} taps")
            yield Row("act", f"a tap {what}, p95", p95(taps), "ms", f"slowest {max(taps):.0f}")


def page_of(line: CDPSession, place: int, does: int) -> bool:
    """Her page, newly opened; whether anything is searched for on it."""
    asked(line, "location.hash = '#/'")
    until(line, f"document.querySelectorAll('li.doe-row > a').length >= {does}")
    asked(line, "window.search = {}; window.long = []")
    asked(line, f"location.hash = document.querySelectorAll('li.doe-row > a')[{place}].getAttribute('href')")
    until(line, f"document.querySelector({SUMMARY!r}) !== null")
    return bool(asked(line, "document.querySelector('.acts') !== null"))
