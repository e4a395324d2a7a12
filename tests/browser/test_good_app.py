"""What a phone expects of an app: its splash, its badge, its share sheet, its update, its paper."""

from __future__ import annotations

import json
import re
import urllib.request

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.places import dress, subject, visit
from tests.browser.screen import Screen
from tests.support.words import LANGUAGES, say, speaking

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
GROUNDS = {"day": "#fbf7ee", "night": "#000000"}
LOT = "Meadow hay, July"
# As a phone does it: a form with one picture, sent by the browser itself.
SHARE = """async ({ action, name }) => {
  const canvas = Object.assign(document.createElement("canvas"), { width: 900, height: 1200 });
  canvas.getContext("2d").fillRect(100, 100, 500, 700);
  const blob = await new Promise((done) => canvas.toBlob(done, "image/png"));
  const files = new DataTransfer();
  files.items.add(new File([blob], "report.png", { type: "image/png" }));
  const how = { action, method: "post", enctype: "multipart/form-data" };
  const form = Object.assign(document.createElement("form"), how);
  form.append(Object.assign(document.createElement("input"), { type: "file", name, files: files.files }));
  document.body.append(form);
  setTimeout(() => form.submit());
}"""


def manifest(barn: Barn, path: str) -> dict[str, object]:
    with urllib.request.urlopen(barn.server.url + path, timeout=10) as reply:
        return dict(json.loads(reply.read()))


@pytest.mark.parametrize("theme", ["day", "night"])
def test_the_splash_has_the_ground_of_the_theme(barn: Barn, phone: Screen, theme: str) -> None:
    page = phone.page
    dress(page, theme)
    asked = page.locator("link[rel=manifest]").get_attribute("href")
    assert asked
    told = manifest(barn, asked)
    ground = page.evaluate("() => getComputedStyle(document.documentElement).backgroundColor")
    red, green, blue = (int(one) for one in re.findall(r"\d+", ground)[:3])
    assert f"#{red:02x}{green:02x}{blue:02x}" == GROUNDS[theme]
    assert told["background_color"] == told["theme_color"] == GROUNDS[theme]
    assert page.locator("meta[name=theme-color]").get_attribute("content") == GROUNDS[theme]
    parsed = page.context.new_cdp_session(page).send("Page.getAppManifest")
    assert parsed["errors"] == []


def test_a_clock_that_runs_is_a_number_on_the_icon(phone: Screen, barn: Barn) -> None:
    page = phone.page
    page.add_init_script("""window.badges = [];
      navigator.setAppBadge = async (n) => void window.badges.push(n);
      navigator.clearAppBadge = async () => void window.badges.push(0);""")
    page.reload()
    visit(phone, f"emergency/hard_kidding/{subject(barn, 'doe', 'Marigold')}")
    phone.button(say("watch.start")).click()
    page.wait_for_function("() => window.badges.at(-1) === 1")
    page.reload()
    page.wait_for_function("() => window.badges.at(-1) === 1")
    phone.button(say("watch.stop")).click()
    page.wait_for_function("() => window.badges.at(-1) === 0")


def test_a_picture_shared_without_a_signal_is_beside_the_report_that_is_typed(barn: Barn, phone: Screen) -> None:
    page = phone.page
    target = manifest(barn, "/manifest.webmanifest")["share_target"]
    assert isinstance(target, dict)
    assert (target["method"], target["enctype"]) == ("POST", "multipart/form-data")
    (field,) = target["params"]["files"]
    barn.server.kill()
    with page.expect_navigation():
        page.evaluate(SHARE, {"action": target["action"], "name": field["name"]})
    phone.at(say("shared"))
    expect(page.locator("main img.photo")).to_be_visible()
    phone.button(LOT).click()
    phone.at(re.compile(re.escape(say("lab.title"))))
    shown = page.locator("main img.photo")
    expect(shown).to_be_visible()
    assert shown.evaluate("async (at) => { await at.decode(); return at.naturalHeight; }") == 1200
    page.reload()
    expect(shown).to_be_visible()
    visit(phone, "shared")
    expect(page.get_by_text(say("shared.none"))).to_be_visible()
    visit(phone, f"farm/lots/{subject(barn, 'lot', LOT)}/lab")
    phone.button(say("photo.drop")).click()
    expect(shown).to_have_count(0)
    page.reload()
    phone.at(re.compile(re.escape(say("lab.title"))))
    expect(shown).to_have_count(0)


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_barn_card_is_one_sheet(phone: Screen, language: str) -> None:
    page = phone.page
    with speaking(language):
        dress(page, "night")
        visit(phone, "barn_card")
        expect(page.locator(".troubles section")).to_have_count(11)
        assert re.search(r"\{c\d|undefined", page.locator("main").inner_text()) is None
        for paper in ("A4", "Letter"):
            margin = dict.fromkeys(("top", "bottom", "left", "right"), "12mm")
            pdf = page.pdf(format=paper, margin=margin)
            assert pages(pdf) == 1, paper


def pages(pdf: bytes) -> int:
    (count,) = re.findall(rb"/Type /Pages\s*/Count (\d+)", pdf)
    return int(count)


def test_a_new_version_says_so_and_starts_when_it_is_told_to(phone: Screen) -> None:
    page = phone.page
    visit(phone, "farm")
    page.evaluate("() => { window.asked = []; window.marked = true; }")
    page.evaluate(WAITING)
    expect(page.get_by_text(say("update.ready"))).to_be_visible()
    assert page.evaluate("() => window.marked"), "nothing is reloaded unasked"
    phone.button(say("update.go")).click()
    page.wait_for_function("() => !window.marked")
    assert page.evaluate("() => navigator.serviceWorker.controller.scriptURL").endswith("newer")


# The same worker under another address is a newer one to the browser: it is fetched, and waits for its turn.
WAITING = "() => navigator.serviceWorker.register('/sw.js?newer').then(() => undefined)"
