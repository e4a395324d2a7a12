"""A farm's phone without its server: what openings and taps cost the processor, and an hour's heap."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import ExitStack
from tempfile import TemporaryDirectory

from playwright.sync_api import BrowserContext, sync_playwright

from tests.bench import openings, taps
from tests.bench.big_farm import PASSWORD, PERSON
from tests.bench.blank import blank_server
from tests.bench.ground import farm_of
from tests.bench.phone import browser
from tests.bench.table import Row
from tests.browser.screen import CONTROLLED, Screen
from tests.support.live import Server

AT_REST_S = 120.0
HOUR_OF_TAPS = 300


def rows(does: int, days: int, opens: int, tap_count: int) -> Iterator[Row]:
    with ExitStack() as stack:
        server = stack.enter_context(farm_of(does, days))
        profile = stack.enter_context(TemporaryDirectory(prefix="mangerline-profile-", ignore_cleanup_errors=True))
        play, blank = stack.enter_context(sync_playwright()), stack.enter_context(blank_server())
        with server, browser(play, profile) as context:
            fetch(context, server, blank)
        urls = (server.url, blank)
        yield from openings.worked(play, profile, urls, (does, (opens + 1) // 2))
        yield from taps.worked(play, profile, server.url, (does, tap_count))
        yield from taps.heap(play, profile, server.url, (does, HOUR_OF_TAPS * does // 60))


def fetch(context: BrowserContext, server: Server, blank: str) -> int:
    """Sign in once, with a server, so that everything afterwards is on the phone. How many events it holds."""
    screen = Screen(context.new_page(), server.url).sign_in(PERSON, PASSWORD)
    screen.controlled()
    other = context.new_page()
    other.goto(blank)
    other.wait_for_function(CONTROLLED)
    other.close()
    # Only a farm at rest leaves the picture that the next opening shows first.
    ends = time.monotonic() + AT_REST_S
    while not screen.page.evaluate(f"({COUNT})('picture')"):
        if time.monotonic() > ends:
            raise TimeoutError("no picture was kept")
        time.sleep(1)
    return int(screen.page.evaluate(f"({COUNT})('events')"))


COUNT = """async (store) => {
  const name = (await indexedDB.databases()).map(({ name }) => name).find((name) => name.split("/").length === 3);
  const opening = indexedDB.open(name);
  const db = await new Promise((done) => { opening.onsuccess = () => done(opening.result); });
  const count = db.transaction(store).objectStore(store).count();
  return new Promise((done) => { count.onsuccess = () => { db.close(); done(count.result); }; });
}"""
