"""Openings and taps in rounds, one after the other: a blank page, a bare page, this client, and another beside it, so
that what the machine does meanwhile falls on all alike. Nothing of a debugger is on while anything is measured."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from playwright.sync_api import sync_playwright

from tests.bench import itself, raw
from tests.bench.blank import blank_server
from tests.bench.ground import CLIENT, farm_of
from tests.bench.in_browser import fetch
from tests.bench.phone import SLOWER, browser
from tests.bench.table import Row, p95

FIRST_ROWS, REST_S, WAIT_S, SETTLE_S = 4, 3.0, 8.0, 1.2
LEFT = ".left:not(.told)"


@dataclass
class Seen:
    """One page, over all rounds. Milliseconds."""

    url: str
    profile: str
    rows: int
    first: list[float] = field(default_factory=list)
    all: list[float] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)
    rest_cpu: list[float] = field(default_factory=list)
    taps: list[float] = field(default_factory=list)
    lists: list[float] = field(default_factory=list)


def rows(sizes: tuple[int, int], rounds: int, taps: int, beside: str) -> Iterator[Row]:
    with ExitStack() as stack:
        blank = stack.enter_context(blank_server())
        clients = {"": ""} | ({"beside": beside} if beside else {})
        seen = {name: kept(stack, sizes, blank, client) for name, client in clients.items()}
        nothing = Seen(blank, seen[""].profile, 0)
        bare = Seen(f"{blank}bare", seen[""].profile, 0)
        for _ in range(rounds):
            for page in (nothing, *seen.values()):
                opened(page)
            for page in (bare, *seen.values()):
                tapped(page, taps)
        note = f"{sizes[0]} does, {sizes[1]} days, {rounds} rounds, {SLOWER}x"
        yield from said(nothing, bare, seen, note)


def kept(stack: ExitStack, sizes: tuple[int, int], blank: str, client: str) -> Seen:
    """A phone that holds the farm, and whose server is gone."""
    server = stack.enter_context(farm_of(*sizes))
    if client:
        server.application, server.env[CLIENT] = "tests.bench.beside:application", str(Path(client).resolve())
    profile = stack.enter_context(TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True))
    with sync_playwright() as play, server, browser(play, profile) as context:
        fetch(context, server, blank)
    return Seen(f"{server.url}/", profile, sizes[0])


def opened(page: Seen) -> None:
    """Slowed down for the clock on the wall, and not slowed down for the processor's, which holds on a busy machine."""
    script = itself.opened(min(FIRST_ROWS, page.rows), page.rows)
    with raw.browser(page.profile) as chromium:
        at = json.loads(chromium.open(page.url, script, SLOWER).told("opened "))
        page.first.append(at["first"])
        page.all.append(at["all"])
    with raw.browser(page.profile) as chromium:
        before = chromium.cpu_ms()
        tab = chromium.open(page.url, script, 1)
        tab.told("opened ", 0.01)
        usable = chromium.cpu_ms()
        time.sleep(REST_S)
        page.cpu.append(usable - before)
        page.rest_cpu.append(chromium.cpu_ms() - usable)


def tapped(page: Seen, taps: int) -> None:
    with raw.browser(page.profile) as chromium:
        tab = chromium.open(page.url, itself.tapped(LEFT, taps, WAIT_S if page.rows else SETTLE_S, SETTLE_S), SLOWER)
        for i in range(taps):
            tab.tap(*json.loads(tab.told(f"tap {i} ")))
        for her, lists in json.loads(tab.told("tapped ")):
            page.taps.append(her)
            page.lists.append(lists)


def said(nothing: Seen, bare: Seen, seen: dict[str, Seen], note: str) -> Iterator[Row]:
    yield Row("phone", "blank cached page, painted", median(nothing.all), "ms", f"{spread(nothing.all)}; {note}")
    yield Row("phone", "blank cached page, CPU of all threads at 1x", median(nothing.cpu), "ms", spread(nothing.cpu))
    for name, page in seen.items():
        of = f" ({name})" if name else ""
        for what, ms in (("first rows", page.first), ("whole list", page.all)):
            times = f"{median(ms) / median(nothing.all):.1f} x blank; {spread(ms)}"
            yield Row("phone", f"cold, no server, to the {what}{of}", median(ms), "ms", times)
        yield Row("phone", f"to the whole list, CPU of all threads at 1x{of}", median(page.cpu), "ms", spread(page.cpu))
        then = f"{spread(page.rest_cpu)}; reading, folding, judging"
        yield Row("phone", f"{REST_S:.0f} s from there, CPU of all threads{of}", median(page.rest_cpu), "ms", then)
    for name, page in (("on a bare page", bare), *seen.items()):
        of = name if page is bare else f"left some{f' ({name})' if name else ''}"
        over = "" if page is bare else f"{p95(page.taps) - p95(bare.taps):+.0f} ms over bare; "
        yield Row("phone", f"tap {of}, p50", median(page.taps), "ms", f"{len(page.taps)} taps")
        yield Row("phone", f"tap {of}, p95", p95(page.taps), "ms", f"{over}slowest {max(page.taps):.0f}")
        then = f"p50 {median(page.lists):.0f}: one frame on, the lists"
        yield Row("phone", f"tap {of}, to the second frame, p95", p95(page.lists), "ms", then)


def spread(ms: list[float]) -> str:
    return f"{min(ms):,.0f} to {max(ms):,.0f}"
