from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, BrowserType, Page, expect

from tests.browser.barn import ZONE, Barn
from tests.browser.chromium_process import Handset
from tests.browser.people import OWNER
from tests.browser.screen import Screen
from tests.support.live import Server
from tests.support.proxy import Proxy
from tests.support.words import say

# A machine that does other things too is given time: what is there at once costs none.
expect.set_options(timeout=30_000)


@pytest.fixture(scope="session")
def demo_folder(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo farm's data, made once; each test works on a copy."""
    return Server(tmp_path_factory.mktemp("demo_once")).with_demo("--zone", ZONE).folder


@pytest.fixture(scope="module")
def demo_barn(demo_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Barn]:
    folder = tmp_path_factory.mktemp("barn") / "data"
    shutil.copytree(demo_folder, folder)
    passwords = json.loads((folder / "demo_passwords.json").read_text())
    with Server(folder) as server:
        yield Barn(server, passwords)


@pytest.fixture
def barn(demo_barn: Barn) -> Barn:
    """A running farm. The tests of one file share its log, so each looks only at what it has added."""
    demo_barn.server.thaw()
    if not demo_barn.server.answers():
        demo_barn.server.kill()
        demo_barn.server.start()
    return demo_barn


@pytest.fixture
def proxy(barn: Barn) -> Iterator[Proxy]:
    with Proxy(barn.server) as between:
        yield between


@pytest.fixture
def phone(barn: Barn, page: Page) -> Screen:
    """Jory's phone, signed in, everything fetched, ready to lose its server."""
    return Screen(page, barn.server.url).sign_in("Jory", barn.passwords["Jory"]).controlled()


@pytest.fixture
def spoiled_phone(barn: Barn, proxy: Proxy, page: Page) -> Screen:
    """The same, with the go-between before the server."""
    return Screen(page, proxy.url).sign_in("Jory", barn.passwords["Jory"]).controlled()


@pytest.fixture
def another(new_context: Callable[..., BrowserContext], barn: Barn) -> Callable[[str, str], Screen]:
    """Another person's phone."""

    def signed_in(name: str, farm: str = "") -> Screen:
        screen = Screen(new_context().new_page(), barn.server.url)
        return screen.sign_in(name, barn.passwords[name], farm)

    return signed_in


@pytest.fixture
def newcomer(built_client: None, barn: Barn, page: Page) -> Screen:
    """Odette opens her second farm, where nothing has been recorded yet."""
    screen = Screen(page, barn.server.url).open()
    screen.fill_in_sign_in("Odette", barn.passwords["Odette"])
    screen.button(re.compile("^Far Paddock")).click()
    screen.at(say("chores"))
    return screen.controlled()


@pytest.fixture
def handset(
    browser_type: BrowserType, browser_type_launch_args: Any, browser_context_args: Any, tmp_path: Path
) -> Iterator[Handset]:
    """A phone of its own, whose battery may go."""
    made = Handset(browser_type, tmp_path / "profile", {**browser_type_launch_args, **browser_context_args})
    yield made
    made.switch_off()


@pytest.fixture
def phones(browser: Browser, barn: Barn) -> Iterator[Callable[..., Screen]]:
    """A phone nobody has signed in on."""
    made: list[BrowserContext] = []

    def one(*scripts: str) -> Screen:
        context = browser.new_context(
            viewport={"width": 360, "height": 740}, is_mobile=True, has_touch=True, locale="en-GB", timezone_id="UTC"
        )
        made.append(context)
        for script in scripts:
            context.add_init_script(script)
        return Screen(context.new_page(), barn.server.url)

    yield one
    for context in made:
        context.close()


@pytest.fixture
def owner(phones: Callable[..., Screen], barn: Barn) -> Screen:
    return phones().sign_in(OWNER, barn.passwords[OWNER], "Tumblegate")
