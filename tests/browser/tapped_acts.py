"""Every act the demo farm is offered, and the farm with a doe for each, put into the plan with one tap and taken out
with one, on a phone without a signal: what stood before, what after, and what it brings. `python -m
tests.browser.tapped_acts` prints it."""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Locator, ViewportSize, expect, sync_playwright

from tests.browser.barn import ZONE
from tests.browser.pictures import PHONE, demo
from tests.browser.screen import Screen, plan_of
from tests.support import chromium
from tests.support.live import Server
from tests.support.paths import ROOT
from tests.support.words import say

SIZE: ViewportSize = {"width": 360, "height": 740}
ROWS = "li.doe-row > a"


PERSON, PASSWORD = "Odette", "sixty quiet goats"


def plant(server: Server, farm: str = "tests.support.act_farm") -> None:
    """A farm with a doe for each thing that can be done; or another farm of tests/support."""
    server.manage("migrate", "--verbosity", "0")
    env = {**server.env, "DJANGO_SETTINGS_MODULE": "herd.settings", "MANGERLINE_LOG": "ERROR"}
    command = [sys.executable, "-m", "tests.support.planted_farm", PERSON, PASSWORD, ZONE, farm]
    subprocess.run(command, cwd=ROOT, env=env, check=True)


@contextmanager
def planted() -> Iterator[Server]:
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder))
        plant(server)
        with server:
            yield server


@dataclass(frozen=True)
class Tapped:
    """One act of one doe or pen."""

    name: str
    code: str
    said: str
    act: str
    brings: str
    plan: str
    plan_then: str
    said_then: str
    adopted: str
    button_px: int
    undone: bool


def each_act(screen: Screen) -> Iterator[Tapped]:
    """Doe by doe, in the order of the list; the other ways after the first."""
    screen.chores()
    for href in screen.page.locator(ROWS).evaluate_all("(rows) => rows.map((row) => row.getAttribute('href'))"):
        # who is off her feed has another page before her own
        screen.page.evaluate("(href) => { location.hash = href; }", "/".join(href.split("/")[:3]))
        expect(section(screen)).to_be_visible()
        if not screen.page.locator(".acts").count():
            continue
        for place in range(offers(screen).count()):
            yield tapped(screen, place)


def tapped(screen: Screen, place: int) -> Tapped:
    act, before = offers(screen).nth(place), stands(screen)
    # what stands folded under other ways is brought out
    act.evaluate("(act) => { const ways = act.closest('details'); if (ways) ways.open = true; }")
    code, heading = act.get_attribute("data-act") or "", act.get_by_role("heading").inner_text()
    lines, brings = (act.locator(what).all_inner_texts() for what in ("li", ".brings"))
    button = act.get_by_role("button")
    button.scroll_into_view_if_needed()
    box = button.bounding_box()
    assert box
    button.click()
    screen.saved()
    expect(screen.page.locator(".adopted").first).to_be_visible()
    offers(screen)
    after, adopted = stands(screen), screen.page.locator(".adopted").first.inner_text()
    screen.button(say("undo")).last.click()
    expect(screen.page.locator(".adopted")).to_have_count(0)
    offers(screen)
    name = screen.page.get_by_role("heading", level=1).inner_text()
    return Tapped(
        name,
        code,
        said=before[0],
        act=" ".join([heading, *lines]),
        brings=" ".join(brings),
        plan=before[1],
        plan_then=after[1],
        said_then=f"{after[0]} {after[2]}",
        adopted=adopted,
        button_px=int(box["height"]),
        undone=stands(screen) == before,
    )


def offers(screen: Screen) -> Locator:
    """Once they are worked out."""
    expect(screen.page.locator(".acts[aria-busy=true]")).to_have_count(0)
    return screen.page.locator(".act-offer")


def section(screen: Screen) -> Locator:
    return plan_of(screen)


def stands(screen: Screen) -> tuple[str, str, str]:
    """What is said of her, her plan, and what is offered."""
    acts = screen.page.locator(".acts")
    said = screen.page.locator("main .said, main .told").first.inner_text()
    return said, section(screen).inner_text(), acts.inner_text() if acts.count() else ""


def changed(before: str, after: str) -> str:
    """The lines of a plan that were not there before."""
    held = before.splitlines()
    return "; ".join(line.strip() for line in after.splitlines() if line.strip() and line not in held)


def one_line(text: str) -> str:
    return " ".join(text.split())


def shown(row: Tapped) -> str:
    return "\n".join(
        [
            f"{row.name}: {row.code}",
            f"  said before  {one_line(row.said)}",
            f"  offered      {row.act}",
            f"  it brings    {row.brings}",
            f"  plan then    {changed(row.plan, row.plan_then)}",
            f"  said then    {one_line(row.said_then)}",
            f"  taken out    {'as before' if row.undone else 'NOT as before'}",
        ]
    )


def go_through(playwright: Any, farm: str, server: Server, who: tuple[str, str]) -> None:
    browser = playwright.chromium.launch(executable_path=str(chromium.find()), args=chromium.ARGS)
    page = browser.new_context(**PHONE, viewport=SIZE).new_page()
    screen = Screen(page, server.url).sign_in(*who).controlled()
    server.freeze()
    rows = list(each_act(screen))
    server.thaw()
    browser.close()
    print(f"\n{farm}, 360x740, no server")
    print("\n".join(shown(row) for row in rows))
    does = {row.name for row in rows}
    print(f"{len(rows)} acts of {len(does)} does, {sum(row.undone for row in rows)} taken out as before")


def main() -> None:
    with demo() as barn, planted() as server, sync_playwright() as playwright:
        go_through(playwright, "The demo farm", barn.server, ("Jory", barn.passwords["Jory"]))
        go_through(playwright, "A doe for each act", server, (PERSON, PASSWORD))


if __name__ == "__main__":
    main()
