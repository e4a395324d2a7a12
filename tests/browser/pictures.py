"""Every screen as a picture, for people to look at: `python -m tests.browser.pictures FOLDER [LANGUAGE ...]`."""

from __future__ import annotations

import json
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import timedelta
from functools import partial
from itertools import product
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Page, sync_playwright

from tests.browser.barn import ZONE, Barn, today
from tests.browser.lately import make_lately
from tests.browser.measures import clipped, spilled, too_wide
from tests.browser.people import OWNER
from tests.browser.places import PAINTED, SHEET, Walkers
from tests.browser.screen import Screen
from tests.browser.sitters import walkers
from tests.support import chromium
from tests.support.live import Server
from tests.support.words import LANGUAGES, say, speaking

SIZES = ((360, 740), (390, 844), (820, 1180), (1440, 900))
THEMES = ("day", "night")
TALL = "() => Math.min(12_000, Math.max(innerHeight, document.documentElement.scrollHeight))"
PHONE: dict[str, Any] = {"is_mobile": True, "has_touch": True, "timezone_id": "UTC", "locale": "en-GB"}


@contextmanager
def demo() -> Iterator[Barn]:
    with tempfile.TemporaryDirectory() as folder:
        server = Server(Path(folder))
        server.manage("build_client")
        with server.with_demo("--zone", ZONE):
            yield Barn(server, json.loads((server.folder / "demo_passwords.json").read_text()))


def take(page: Page, file: Path, whole: bool = True) -> None:
    """The whole page as if the phone were that tall, so that what sticks to its foot stands at the foot."""
    file.parent.mkdir(parents=True, exist_ok=True)
    for wrong in [*too_wide(page), *clipped(page), *spilled(page)]:
        print(f"{file}: {wrong}")
    size = page.viewport_size
    assert size
    if whole:
        for _ in range(2):  # what was out of sight may turn out taller once it is drawn
            page.set_viewport_size({"width": size["width"], "height": page.evaluate(TALL)})
            page.evaluate(PAINTED)
    page.screenshot(path=file)
    page.set_viewport_size(size)


def take_all(phones: Walkers, folder: Path, languages: tuple[str, ...]) -> None:
    for language, (width, height), theme in product(languages, SIZES, THEMES):
        phones.size(width, height)
        with speaking(language):
            phones.dress(theme)
            for page, name in phones.walk():
                file = f"{name.replace('/', ' ')}.png"
                take(page, folder / language / f"{width}x{height} {theme}" / file, whole=name != SHEET)


def with_owner(phones: Walkers, new: Callable[[], BrowserContext]) -> Walkers:
    """One of her does has two dates of one service, so that the page of questions asks one."""
    for ago in (3, 1):
        phones.family.form("Hazel", "bred")
        on = (today() - timedelta(days=ago)).isoformat()
        phones.family.page.get_by_label(say("f.bred_on"), exact=True).fill(on)
        phones.family.button(say("save")).click()
        phones.family.at("Hazel")
    owner = Screen(new().new_page(), phones.barn.server.url)
    owner.sign_in(OWNER, phones.barn.passwords[OWNER], "Tumblegate")
    return replace(phones, owner=owner)


def main(folder: Path, languages: tuple[str, ...]) -> None:
    with demo() as barn, sync_playwright() as playwright:
        make_lately(barn)
        browser = playwright.chromium.launch(executable_path=str(chromium.find()), args=chromium.ARGS)
        phone = partial(browser.new_context, **PHONE, viewport={"width": 360, "height": 740})
        page = phone().new_page()
        Screen(page, barn.server.url).open()
        page.screenshot(path=folder / "sign in.png")
        take_all(with_owner(walkers(barn, phone), phone), folder, languages)


if __name__ == "__main__":
    where = Path(sys.argv[1])
    where.mkdir(parents=True, exist_ok=True)
    main(where, tuple(sys.argv[2:]) or LANGUAGES)
