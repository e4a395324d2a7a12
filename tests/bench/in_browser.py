"""(i) Cold open without a server, and (ii) tap to painted prompt, in a Chromium slowed down six times."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from statistics import median
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import BrowserContext, CDPSession, Page, sync_playwright

from tests.bench.big_farm import PASSWORD, PERSON
from tests.bench.blank import blank_server
from tests.bench.ground import farm_of
from tests.bench.on_cpu import meter, row, spent
from tests.bench.table import Row, p95
from tests.browser.screen import CONTROLLED, Screen
from tests.support import chromium
from tests.support.live import Server

SLOWER = 6
PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740},
    "device_scale_factor": 2,
    "is_mobile": True,
    "has_touch": True,
    "locale": "en-GB",
    "timezone_id": "UTC",
}
# Runs before the page's own code: notes when the last of the rows that were asked for has been painted.
USABLE = """(rows) => {
  const painted = (then) => requestAnimationFrame(() => { const { port1, port2 } = new MessageChannel();
    port1.onmessage = then; port2.postMessage(0); });
  const look = () => {
    if (!document.body || document.querySelectorAll("button.ate").length < rows) return requestAnimationFrame(look);
    painted(() => { window.usable_ms = performance.now(); });
  };
  look();
}"""
# From the tap itself (when the browser got it) to the frame that shows the answer.
TIMER = """() => {
  window.taps = [];
  addEventListener("click", (event) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    const shown = [...document.querySelectorAll(".ways .told")].length;
    port1.onmessage = () => window.taps.push({ ms: performance.now() - event.timeStamp, shown });
    port2.postMessage(0);
  }), true);
  new PerformanceObserver((seen) => seen.getEntries().filter(({ name }) => name === "click")
    .forEach(({ duration, processingEnd, processingStart }) =>
      (window.events ??= []).push({ duration, work: processingEnd - processingStart })))
    .observe({ type: "event", durationThreshold: 16 });
}"""


def rows(does: int, days: int, opens: int, taps: int) -> Iterator[Row]:
    with ExitStack() as stack:
        server = stack.enter_context(farm_of(does, days))
        profile = stack.enter_context(TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True))
        play, blank = stack.enter_context(sync_playwright()), stack.enter_context(blank_server())
        with server, browser(play, profile) as context:
            events = fetch(context, server, blank)
        note = f"{does} does, {events} events on the phone, {SLOWER}x"
        yield from opened(play, profile, server, blank, (does, opens), note)
        yield from tapped(play, profile, server, (does, taps), note)
        yield from worked(play, profile, server, (does, taps))


def browser(play: Any, profile: str) -> BrowserContext:
    program = {"executable_path": str(chromium.find()), "args": chromium.ARGS}
    context: BrowserContext = play.chromium.launch_persistent_context(profile, **program, **PHONE)
    return context


def fetch(context: BrowserContext, server: Server, blank: str) -> int:
    """Sign in once, with a server, so that everything afterwards is on the phone. How many events it holds."""
    screen = Screen(context.new_page(), server.url).sign_in(PERSON, PASSWORD)
    screen.controlled()
    other = context.new_page()
    other.goto(blank)
    other.wait_for_function(CONTROLLED)
    return int(screen.page.evaluate(COUNT))


def slow(context: BrowserContext) -> tuple[Page, CDPSession]:
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    return page, line


def opened(play: Any, profile: str, server: Server, blank: str, sizes: tuple[int, int], note: str) -> Iterator[Row]:
    does, opens = sizes
    app, nothing = [], []
    for _ in range(opens):
        with browser(play, profile) as context:
            nothing.append(until_usable(context, blank, 0))
            app.append(until_usable(context, server.url, does))
    ratio = median(app) / median(nothing)
    yield Row("open", "blank cached page, median", median(nothing), "ms", f"{opens} starts of the browser, {SLOWER}x")
    yield Row("open", "cold, no server, to usable list, median", median(app), "ms", f"{ratio:.1f} x blank; {note}")
    yield Row("open", "the slowest of them", max(app), "ms", "goal 1,000 ms")


def until_usable(context: BrowserContext, url: str, does: int) -> float:
    page, _ = slow(context)
    page.add_init_script(f"({USABLE})({does})")
    usable(page, url)
    return float(page.evaluate("() => window.usable_ms"))


def tapped(play: Any, profile: str, server: Server, sizes: tuple[int, int], note: str) -> Iterator[Row]:
    does, taps = sizes
    with browser(play, profile) as context:
        page, _ = slow(context)
        Screen(page, server.url).chores()
        page.wait_for_function(f"() => document.querySelectorAll('button.ate').length >= {does}", timeout=120_000)
        page.evaluate(TIMER)
        asks, answers = [], []
        for i in range(min(taps, does)):
            asks.append(tap(page, "button.ate", i))
            tap(page, "dialog[open] .back", 0)
            answers.append(tap(page, ".ways .left", i))
        meals = [tap(page, ".planned button", 0) for _ in range(page.locator(".planned button").count())]
        seen = page.evaluate("() => window.events ?? []")
    last = answers[-1]["shown"]
    if last < len(answers):
        raise RuntimeError(f"{len(answers)} does left some, and only {last} show it")
    yield from spread("left some, one tap, to its painted prompt", answers, f"goal p95 50 ms; {note}")
    yield from spread("opening the sheet", asks, "")
    yield from spread("all as planned, a pen of ten", meals, f"{len(meals)} pens")
    work = [one["work"] for one in seen] or [0.0]
    yield Row("tap", "of that in handlers, p95 (Event Timing, all taps)", p95(work), "ms", f"{len(work)} over 16 ms")


def worked(play: Any, profile: str, server: Server, sizes: tuple[int, int]) -> Iterator[Row]:
    does, taps = sizes
    with browser(play, profile) as context:
        page = context.new_page()
        page.add_init_script(f"({USABLE})({does})")
        line = meter(context, page)
        opening = [spent(line, lambda: usable(page, server.url))]
        page.evaluate(TIMER)
        answers = []
        for i in range(min(taps, does)):
            answers.append(spent(line, lambda i=i: tap(page, ".ways .left", i)))
    yield from row("open", "the same", opening, "once")
    yield from row("tap", "left some", answers, "saving it and the test's own work included")


def usable(page: Page, url: str) -> None:
    page.goto(url)
    page.wait_for_function("() => window.usable_ms > 0", timeout=120_000)


def spread(what: str, taps: list[dict[str, float]], note: str) -> Iterator[Row]:
    times = [one["ms"] for one in taps]
    yield Row("tap", f"{what}, p50", median(times), "ms", note)
    yield Row("tap", f"{what}, p95", p95(times), "ms", f"slowest {max(times):.0f}")


def tap(page: Page, what: str, place: int) -> dict[str, float]:
    """One tap by touch; how long until its frame was painted."""
    before = page.evaluate("() => window.taps.length")
    page.locator(what).nth(place).tap()
    page.wait_for_function(f"() => window.taps.length > {before}")
    return dict(page.evaluate("() => window.taps.at(-1)"))


COUNT = """async () => {
  const name = (await indexedDB.databases()).map(({ name }) => name).find((name) => name.split("/").length === 3);
  const opening = indexedDB.open(name);
  const db = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
  const count = db.transaction("events").objectStore("events").count();
  return new Promise((done) => { count.onsuccess = () => { db.close(); done(count.result); }; });
}"""
