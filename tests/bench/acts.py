"""What can be done about a feed prompt: from a tap on her row to the act on her page, opened cold and after the phone
has worked it ahead; the longest stretch of work in it; a tap beside it, with the search and without. On a farm of many
penmates, and on one with a doe for each thing that can be done."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from contextlib import ExitStack
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import CDPSession, sync_playwright

from tests.bench.blank import blank_server
from tests.bench.ground import farm_of, planted
from tests.bench.her_page import COUNTED, NEVER_IDLE, ROWS, SWITCHED, Walk, opened, walked, worked
from tests.bench.in_browser import fetch
from tests.bench.phone import SLOWER, asked, browser, touch
from tests.bench.table import Row, p95

LEFT = ".ways .left"
SLICE_MS, GOAL_MS, BESIDE_MS = 50.0, 1500.0, 10.0
# At the list, before the first page is opened.
IDLE_S, SOON_S = 12.0, 2.0
PACES, FEW = (1, SLOWER), 6
# Pens are drawn one by one, and on a busy machine not in a hurry.
SETTLED_S = 2.0
# Longer than a phone waits before it works ahead, and never the same, so that a tap falls anywhere in it.
PAUSES_S = (2.1, 2.35, 2.6, 2.2, 2.5, 2.8)
SEED, DRAWS = 1, 2000
Open = Callable[..., Any]


def rows(does: int, days: int, taps: int, small: bool = False) -> Iterator[Row]:
    with ExitStack() as stack:
        play, blank = stack.enter_context(sync_playwright()), stack.enter_context(blank_server())

        def on(server: Any) -> Open:
            folder = TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True)
            profile = stack.enter_context(folder)
            with server, browser(play, profile) as context:
                fetch(context, server, blank)
            return lambda script, slower: opened(play, profile, server.url, script, slower)

        big = on(stack.enter_context(farm_of(does, days)))
        if small:
            yield from of_farm(big, f"{does} does", SOON_S, (SLOWER,), FEW)
            yield from of_taps(big, 1)
            return
        yield from of_farm(big, f"{does} does", IDLE_S, PACES, does)
        yield from of_taps(big, 3 * taps)
        yield from of_farm(on(stack.enter_context(planted())), "a doe for each act", IDLE_S, PACES, does)


def of_farm(open_it: Open, farm: str, idle_s: float, paces: tuple[int, ...], pages: int) -> Iterator[Row]:
    with open_it(NEVER_IDLE, 1) as line:
        alone = worked(line, rows_on(line, pages))
    yield from of_work(alone, farm)
    walks = []
    for slower in paces:
        for how, script, wait_s in (("opened cold", NEVER_IDLE, 0.0), (f"after {idle_s:.0f} s idle", COUNTED, idle_s)):
            with open_it(script, slower) as line:
                walk = walked(line, rows_on(line, pages), wait_s)
            yield from of_walk(walk, f"{farm}, {how}", slower)
            walks.append((slower, walk))
    yield from of_rest([walk for slower, walk in walks if slower == SLOWER], farm)


def rows_on(line: CDPSession, most: int) -> int:
    """Once all of them are drawn."""
    found, before = 0, -1
    while not found or found != before:
        time.sleep(SETTLED_S)
        found, before = int(asked(line, f"document.querySelectorAll({ROWS!r}).length")), found
    return min(found, most)


def of_work(walk: Walk, farm: str) -> Iterator[Row]:
    note = f"{farm}; her page and the search, not slowed down: holds on a busy machine"
    yield Row("act", "from her row to what would do it, processor time, p50", median(walk.cpu), "ms", note)
    most = f"slowest {max(walk.cpu):.0f}; goal {GOAL_MS / SLOWER:.0f}"
    yield Row("act", "from her row to what would do it, processor time, p95", p95(walk.cpu), "ms", most)
    goal = f"goal {SLICE_MS / SLOWER:.1f}"
    parts = (
        ("while it searches", walk.trace, "began", "ended"),
        ("while her page opens", walk.trace, "asked", "began"),
        ("once an act is put in", walk.put, "put", "in"),
    )
    for what, trace, first, last in parts:
        found = sorted(trace.between(first, last)) if trace else []
        if found:
            few = f"p95 {p95(found):.1f} of {len(found)}; {goal}"
            yield Row("act", f"longest stretch of work {what}, processor time", found[-1], "ms", few)


def of_walk(walk: Walk, how: str, slower: int) -> Iterator[Row]:
    found, what = walk.found, f"from her row to what would do it, p95, {slower}x"
    note = f"p50 {median(found):,.0f}, slowest {max(found):,.0f}; {len(found)} does, {walk.kept} kept; {how}"
    yield Row("act", what, p95(found), "ms", f"{note}; goal {GOAL_MS:,.0f}" if slower == SLOWER else note)


def of_rest(walks: list[Walk], farm: str) -> Iterator[Row]:
    long = [ms for walk in walks for ms in walk.long]
    searched = sum(ms for walk in walks for ms in walk.found) / 1000
    note = f"{farm}; {len(long)} of {SLICE_MS:.0f} ms and more in {searched:.0f} s, {SLOWER}x"
    yield Row("act", "longest stretch of work by the clock", max(long, default=0.0), "ms", note)
    beside, quiet = [ms for walk in walks for ms in walk.beside], [ms for walk in walks for ms in walk.quiet]
    for what, taps in (("while it searches", beside), ("on the same pages afterwards", quiet)):
        if taps:
            note = f"p50 {median(taps):.0f}, slowest {max(taps):.0f}; {len(taps)} taps"
            yield Row("act", f"a tap on her page {what}, p95", p95(taps), "ms", note)


def of_taps(open_it: Open, pairs: int) -> Iterator[Row]:
    """A tap with the search and one without beside each other, whichever first: a machine grows busier and quieter."""
    dice, found = random.Random(SEED), {True: list[float](), False: list[float]()}
    with open_it(SWITCHED, SLOWER) as line:
        for i in range(pairs):
            for turn in dice.sample((True, False), 2):
                asked(line, f"window.turn({str(turn).lower()})")
                found[turn].append(tapped_on(line, len(found[True]) + len(found[False]), i))
        idles = int(asked(line, "window.idles"))
    off, on = found[False], found[True]
    note = f"p50 {median(off):.0f}, slowest {max(off):.0f}; {len(off)} taps, {SLOWER}x"
    yield Row("act", "left some, with the search off, p95", p95(off), "ms", note)
    low, high = between(dice, on, off)
    more = f"{p95(on) - p95(off):+.0f} ms, nine in ten of {low:+.0f} to {high:+.0f}, goal {BESIDE_MS:.0f}"
    half = f"p50 {median(on):.0f}, {median(on) / median(off):.2f} x off; {idles} idle times"
    yield Row("act", "left some, in the middle of working ahead, p95", p95(on), "ms", f"{more}; {half}")


def between(dice: random.Random, on: list[float], off: list[float]) -> tuple[float, float]:
    """Where the difference of the two p95 may lie, by drawing the taps again."""
    drawn = [p95(dice.choices(on, k=len(on))) - p95(dice.choices(off, k=len(off))) for _ in range(DRAWS)]
    fives = quantiles(drawn, n=20)
    return fives[0], fives[-1]


def tapped_on(line: CDPSession, place: int, pause: int) -> float:
    """A doe that left some, and so long a pause that the phone is in the middle of its work at the next."""
    time.sleep(PAUSES_S[pause % len(PAUSES_S)])
    rows = int(asked(line, f"document.querySelectorAll({LEFT!r}).length"))
    return touch(line, LEFT, place % rows)
