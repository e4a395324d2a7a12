"""Told on a closed phone: chosen by a tap, sent by the worker, opened by the browser's key, shown once, and a tap leads
to her page."""

from __future__ import annotations

import json
import shutil
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from playwright.sync_api import BrowserContext, Page, Playwright, Response, expect

from tests.browser.barn import Barn
from tests.browser.measures import check, targets
from tests.browser.places import subject
from tests.browser.screen import Screen
from tests.support import chromium
from tests.support.live import Server
from tests.support.push_phone import Browser, Maker, claims
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
PHONE: dict[str, Any] = {
    "viewport": {"width": 360, "height": 740}, "is_mobile": True, "has_touch": True, "locale": "en-GB"
}  # fmt: skip
# Chromium without a window has no maker behind it: the page is given the address one would give.
GIVEN = """(said) => {
  const made = (key) => ({
    options: { applicationServerKey: key }, unsubscribe: async () => true,
    toJSON: () => ({ endpoint: said.endpoint, keys: { p256dh: said.p256dh, auth: said.auth } }),
  });
  const bytes = (text) => Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (c) => c.charCodeAt(0));
  let there = null;
  PushManager.prototype.subscribe = async ({ applicationServerKey }) => (there = made(bytes(applicationServerKey)));
  PushManager.prototype.getSubscription = async () => there;
}"""
SHOWN = """async () => (await (await navigator.serviceWorker.getRegistration()).getNotifications())
  .map(({ title, body, tag, data, requireInteraction }) => ({ title, body, tag, data, requireInteraction }))"""
TAPPED = """async () => {
  const [shown] = await self.registration.getNotifications();
  self.dispatchEvent(new NotificationEvent("notificationclick", { notification: shown }));
}"""


@pytest.fixture
def maker() -> Iterator[Maker]:
    made = Maker()
    yield made
    made.close()


@pytest.fixture
def new_context(playwright: Playwright) -> Iterator[Callable[..., BrowserContext]]:
    args = [*chromium.ARGS, "--headless=new"]
    try:
        program = chromium.whole()
    except chromium.NoChromium as lacking:
        pytest.skip(str(lacking))
    browser = playwright.chromium.launch(executable_path=program, args=args, headless=False)
    yield lambda: browser.new_context(**PHONE)
    browser.close()


@pytest.fixture
def told_barn(demo_folder: Path, tmp_path: Path) -> Iterator[Barn]:
    folder = tmp_path / "data"
    shutil.copytree(demo_folder, folder)
    server = Server(folder)
    server.env["MANGERLINE_PUSH_TO_OURSELVES"] = "1"
    with server:
        yield Barn(server, json.loads((folder / "demo_passwords.json").read_text()))


def on(barn: Barn, context: BrowserContext, who: str, said: dict[str, str] | None = None) -> Screen:
    if said is not None:
        context.grant_permissions(["notifications"])
        context.add_init_script(f"({GIVEN})({json.dumps(said)})")
    return Screen(context.new_page(), barn.server.url).sign_in(who, barn.passwords[who]).controlled()


def deliver(page: Page, said: dict[str, Any], url: str) -> None:
    """As the browser's maker hands a push to the service worker."""
    tools = page.context.new_cdp_session(page)
    found: list[dict[str, Any]] = []
    tools.on("ServiceWorker.workerRegistrationUpdated", lambda event: found.extend(event["registrations"]))
    tools.send("ServiceWorker.enable")
    until = time.monotonic() + 20
    while not found and time.monotonic() < until:
        page.wait_for_timeout(50)
    registration = found[0]["registrationId"]
    data = {"origin": url, "registrationId": registration, "data": json.dumps(said)}
    tools.send("ServiceWorker.deliverPushMessage", data)
    tools.detach()


def wait_for(page: Page, there: Callable[[], Any], seconds: float = 30) -> Any:
    until = time.monotonic() + seconds
    while not (found := there()):
        assert time.monotonic() < until, "it never came"
        page.wait_for_timeout(100)
    return found


def test_trouble_on_one_phone_is_shown_on_the_other_and_leads_to_her(
    told_barn: Barn, new_context: Callable[..., BrowserContext], maker: Maker
) -> None:
    browser = Browser()
    mirrin = on(told_barn, new_context(), "Mirrin", browser.says(f"{maker.url}/mirrin"))
    mirrin.open("farm", "me", "notices")
    mirrin.button(say("tell.turn_on")).click()
    expect(mirrin.page.get_by_text(say("tell.on"))).to_be_visible()
    expect(mirrin.page.get_by_label(say("tell.kind.ill"))).to_be_checked()
    mirrin.button(say("tell.try")).click()
    expect(mirrin.page.get_by_text(say("tell.tried"))).to_be_visible()
    [tried] = wait_for(mirrin.page, lambda: list(maker.got))
    assert browser.opens(tried.body)["body"] == "Notices reach this phone."
    assert claims(tried.headers["authorization"])[0]["aud"] == maker.url

    jory = on(told_barn, new_context(), "Jory")
    doe = subject(told_barn, "doe", "Mallow")
    [(farm,)] = told_barn.ask("SELECT id FROM herd_farm WHERE name = 'Tumblegate'")
    farm = UUID(farm)
    jory.ate("Mallow", "not_up")
    jory.at(like("off"))
    got = wait_for(mirrin.page, lambda: maker.got[1:])
    said = browser.opens(got[0].body)
    assert (said["title"], said["url"], said["urgent"]) == ("Mallow", f"/#/at/{farm}/doe/{doe}", True)

    for _ in range(2):
        deliver(mirrin.page, said, told_barn.server.url)
        [shown] = wait_for(mirrin.page, lambda: mirrin.page.evaluate(SHOWN))
        assert shown["title"] == "Mallow"
        assert shown["body"] == said["body"]
        assert shown["requireInteraction"] is True
    [worker] = mirrin.page.context.service_workers
    worker.evaluate(TAPPED)
    expect(mirrin.page).to_have_url(f"{told_barn.server.url}/#/doe/{doe}")
    assert mirrin.page.evaluate(SHOWN) == []
    deliver(mirrin.page, said, told_barn.server.url)
    mirrin.page.wait_for_timeout(500)
    assert mirrin.page.evaluate(SHOWN) == [], "put away, it does not come back"

    mirrin.open("farm", "me", "notices")
    mirrin.page.get_by_text(say("tell.list"), exact=True).click()
    expect(mirrin.page.get_by_role("link", name="Mallow: " + said["body"])).to_be_visible()


def test_a_notice_of_another_farm_opens_that_farm_and_then_its_page(
    told_barn: Barn, new_context: Callable[..., BrowserContext]
) -> None:
    doe = subject(told_barn, "doe", "Mallow")
    [(farm,)] = told_barn.ask("SELECT id FROM herd_farm WHERE name = 'Tumblegate'")
    screen = Screen(new_context().new_page(), told_barn.server.url)
    screen.sign_in("Odette", told_barn.passwords["Odette"], "Far Paddock").controlled()
    screen.open("at", str(UUID(farm)), "doe", doe)
    screen.at("Mallow")
    expect(screen.page).to_have_url(f"{told_barn.server.url}/#/doe/{doe}")
    screen.open("at", doe)
    screen.at(say("not_found"))


def is_second(answer: Response) -> bool:
    return answer.request.method == "PUT" and "1290" in (answer.request.post_data or "")


def test_where_notices_are_refused_the_page_says_so_and_lists_them(
    told_barn: Barn, new_context: Callable[..., BrowserContext]
) -> None:
    context = new_context()
    context.add_init_script('Object.defineProperty(Notification, "permission", { get: () => "denied" })')
    screen = on(told_barn, context, "Mirrin")
    screen.open("farm", "me", "notices")
    expect(screen.page.get_by_text(say("tell.refused"))).to_be_visible()
    expect(screen.page.get_by_text(say("tell.list.none"))).to_be_visible()
    with screen.page.expect_response(is_second):
        screen.page.get_by_label(say("tell.kind.watch")).check()
        screen.page.get_by_label(say("tell.quiet_from_min")).fill("21:30")
        screen.page.get_by_label(say("tell.quiet_from_min")).blur()
    screen.page.reload()
    expect(screen.page.get_by_label(say("tell.kind.watch"))).to_be_checked()
    expect(screen.page.get_by_label(say("tell.quiet_from_min"))).to_have_value("21:30")
    assert check(screen.page).wrong == []
    assert targets(screen.page)
