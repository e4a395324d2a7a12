"""Her page, opened for what can be done about what is said of her: when it is asked for, when the search begins to be
seen, when its answer stands there."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

from playwright.sync_api import CDPSession

from tests.bench.on_cpu import meter, spent
from tests.bench.openings import USABLE
from tests.bench.phone import TIMER, asked, browser, page_on, touch, until
from tests.bench.stretches import Trace, traced

# Each moment is marked for the trace too; tasks of 50 ms and more meanwhile.
WATCH = """() => {
  window.search = {};
  window.long = [];
  new PerformanceObserver((list) => window.long.push(...list.getEntries().map((e) => [e.startTime, e.duration])))
    .observe({ type: "longtask" });
  window.note = (what) => { window.search[what] = performance.now(); performance.mark(what); };
  const look = () => {
    const busy = document.querySelector(".acts")?.getAttribute("aria-busy");
    if (busy && !window.search.began) { window.search.kept = busy === "false"; window.note("began"); }
    if (busy === "false" && !window.search.ended) window.note("ended");
  };
  new MutationObserver(look).observe(document, { childList: true, subtree: true, attributeFilter: ["aria-busy"] });
}"""
# A browser that is never idle works nothing ahead; one that counts tells whether it is at it.
NEVER_IDLE = "window.idles = 0; window.requestIdleCallback = () => 0;"
COUNTED = """window.idles = 0; const ask = window.requestIdleCallback.bind(window);
window.requestIdleCallback = (...given) => { window.idles++; return ask(...given); };"""
# The same with a switch: while it is off nothing is worked ahead, and what asked for idle time meanwhile waits.
SWITCHED = """window.idles = 0; window.on = true; const held = [], ask = window.requestIdleCallback.bind(window);
window.requestIdleCallback = (...given) => window.on ? (window.idles++, ask(...given)) : held.push(given);
window.turn = (on) => {
  window.on = on;
  if (on) held.splice(0).forEach((given) => requestIdleCallback(...given));
};"""
SUMMARY, PUT, ADOPTED = ".folds > details > summary", ".act-offer .btn", ".adopted"
ROWS = "li.doe-row > a"
# As long as a tap's own work goes on after its first frame.
AFTER_S = 2.0


@dataclass
class Walk:
    """Doe by doe. `found`: from the tap that opens her page to the answer on it."""

    found: list[float] = field(default_factory=list)
    cpu: list[float] = field(default_factory=list)
    long: list[float] = field(default_factory=list)
    beside: list[float] = field(default_factory=list)
    quiet: list[float] = field(default_factory=list)
    kept: int = 0
    trace: Trace | None = None
    put: Trace | None = None


@contextmanager
def opened(play: Any, profile: str, url: str, script: str, slower: int) -> Iterator[CDPSession]:
    """The list of does, all of it drawn."""
    with browser(play, profile) as context:
        page, line = page_on(context, slower)
        page.add_init_script(f"{script} {USABLE}(1, 'usable_ms')")
        page.goto(url, wait_until="commit")
        until(line, "window.usable_ms")
        asked(line, f"({TIMER})()")
        asked(line, f"({WATCH})()")
        yield line


def walked(line: CDPSession, does: int, idle_s: float = 0.0) -> Walk:
    """With a tap on each page while it searches and one afterwards; `idle_s`: at the list, before the first."""
    walk = Walk()
    time.sleep(idle_s)

    def page(place: int) -> None:
        walk_on(line, place)
        if not searched(line):
            return
        tapped = touch(line, SUMMARY)
        if asked(line, "!window.search.ended"):
            walk.beside.append(tapped)
        until(line, "window.search.ended")
        noted(line, walk)
        walk.quiet.append(touch(line, SUMMARY))

    for place in range(does):
        page(place)
    return some(walk)


def worked(line: CDPSession, does: int) -> Walk:
    """Nobody taps meanwhile: processor time, and how it is divided; last the first act is put into the plan."""
    walk = Walk()
    meter(line)
    last = []

    def page(place: int) -> None:
        taken = spent(line, lambda: walk_on(line, place, whole=True))["TaskDuration"]
        if searched(line):
            noted(line, walk)
            walk.cpu.append(taken)
            last.append(place)

    with traced(line) as walk.trace:
        for place in range(does):
            page(place)
    some(walk)
    with traced(line) as walk.put:
        put_in(line, last[0])
    return walk


def put_in(line: CDPSession, place: int) -> None:
    walk_on(line, place, whole=True)
    if asked(line, f"document.querySelector({PUT!r}) === null"):
        return
    asked(line, "window.note('put')")
    touch(line, PUT)
    until(line, f"document.querySelector({ADOPTED!r}) !== null")
    time.sleep(AFTER_S)
    asked(line, "window.note('in')")


def some(walk: Walk) -> Walk:
    if not walk.found:
        raise RuntimeError("nobody on this farm is told anything an act could answer")
    return walk


def noted(line: CDPSession, walk: Walk) -> None:
    at, began, ended, kept = asked(line, "['asked', 'began', 'ended', 'kept'].map((what) => window.search[what])")
    walk.found.append(ended - at)
    walk.kept += bool(kept)
    walk.long += [ms for start, ms in asked(line, "window.long") if began <= start <= ended]


def searched(line: CDPSession) -> bool:
    return bool(asked(line, "Boolean(window.search.began)"))


def walk_on(line: CDPSession, place: int, whole: bool = False) -> None:
    """To the list and from there to her page, newly opened; `whole`: until its answer is there."""
    asked(line, "location.hash = '#/'")
    until(line, f"document.querySelectorAll({ROWS!r}).length > {place}")
    asked(line, "window.search = {}; window.long = []; window.note('asked')")
    # who is off her feed has another page before her own
    hers = f"document.querySelectorAll({ROWS!r})[{place}].getAttribute('href').split('/').slice(0, 3).join('/')"
    asked(line, f"location.hash = {hers}")
    until(line, f"document.querySelector({SUMMARY!r}) !== null")
    if whole and searched(line):
        until(line, "window.search.ended")
