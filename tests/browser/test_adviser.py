"""An adviser's phone: the chosen does, nothing to write with, and nothing of the farm once her time is over."""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import count

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.left import left_of
from tests.browser.measures import clipped, too_wide
from tests.browser.people import make_account, picture
from tests.browser.places import addresses, subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
NUMBERS = count(1)
CHOSEN = ("Teasel", "Marigold", "Sedge", "Hazel")
PAGES = re.compile(
    r"""(doe|does|ration|farm/(pens|lots|feeds|scoops|jars|treatments|contacts|card|rules/dates|order)
    |emergency/(bloat|hard_kidding)|shelf|vet|questions|pen|)(/.*)?""",
    re.VERBOSE,
)


@pytest.fixture
def adviser(owner: Screen, phones: Callable[..., Screen]) -> Screen:
    owner.open("farm", "people", "invite", "adviser")
    for name in CHOSEN:
        owner.page.get_by_label(name, exact=True).check()
    owner.page.get_by_label(say("invite.to.must")).fill("2099-05-01")
    owner.button(say("invite.go")).click()
    code = owner.page.locator(".secret").inner_text()
    name = f"Avens {next(NUMBERS)}"
    avens = phones().open("join")
    avens.page.get_by_label(say("join.code")).fill(code)
    avens.button(say("join.look")).click()
    make_account(avens, name, say("join.new"))
    avens.at(say("chores"))
    avens.all_sent()
    return avens.controlled()


def test_she_is_shown_chosen_does_and_nothing_to_write_with(barn: Barn, adviser: Screen) -> None:
    adviser.open("does")
    expect(adviser.page.get_by_text("Teasel", exact=True).first).to_be_visible()
    expect(adviser.page.get_by_text("Bramble", exact=True)).to_have_count(0)
    before = len(barn.log())
    wrong: dict[str, list[str]] = {}
    for name, address in addresses(barn).items():
        if not PAGES.fullmatch(address):
            continue
        visit(adviser, address)
        offered = adviser.page.evaluate(TAP_ALL, say("may.adviser"))
        cut = [*clipped(adviser.page), *too_wide(adviser.page)]
        if offered or cut:
            wrong[name] = [*offered, *cut]
    assert wrong == {}
    adviser.send_now()
    adviser.all_sent()
    assert len(barn.log()) == before
    assert barn.refused() == 0


def test_pictures_of_hers_alone_reach_her_and_when_her_time_is_over_nothing_is_left(
    barn: Barn, owner: Screen, adviser: Screen
) -> None:
    [(farm,)] = barn.ask("SELECT id FROM herd_farm WHERE name = 'Tumblegate'")
    for name, shade in (("Teasel", 90), ("Bramble", 160)):
        visit(owner, f"doe/{subject(barn, 'doe', name)}/pictures")
        with owner.page.expect_file_chooser() as chosen:
            owner.page.get_by_text(say("pictures.her"), exact=True).click()
        chosen.value.set_files(picture(shade))
        expect(owner.page.get_by_role("img", name=name)).to_be_visible()
    owner.send_now()
    owner.all_sent()
    until(lambda: barn.ask("SELECT count(*) FROM herd_blob")[0][0] >= 2, "the pictures to be sent")
    shown = [event["data"]["sha256"] for event in barn.log() if event["kind"] == "picture"][-2:]
    adviser.send_now()
    adviser.all_sent()
    visit(adviser, f"doe/{subject(barn, 'doe', 'Teasel')}/pictures")
    expect(adviser.page.get_by_role("img", name="Teasel")).to_be_visible()
    expect(adviser.page.get_by_text(say("pictures.her"), exact=True)).to_be_hidden()
    answers = adviser.page.evaluate(FETCHED, [f"/api/farms/{farm}/media/{one}" for one in shown])
    assert answers == [200, 404]

    barn.ask("UPDATE herd_membership SET ends_on = '2020-01-01' WHERE role = 'adviser'")
    adviser.send_now()
    told = adviser.page.get_by_role("alert").filter(has_text=like("notice.removed.title"))
    expect(told).to_be_visible()
    until(lambda: left_of(adviser, farm, *CHOSEN) == [], "nothing of the farm is on her phone")


FETCHED = "(paths) => Promise.all(paths.map(async (path) => (await fetch(path)).status))"
# Every button in turn, as long as the page stays: what writes says at the foot that an adviser does not, which no page
# of hers may come to. Fields she could type in count as well.
TAP_ALL = """async (refusal) => {
  const frame = () => new Promise((done) => requestAnimationFrame(() => done()));
  const main = () => document.querySelector("main");
  for (const fold of main().querySelectorAll("details")) fold.open = true;
  await frame();
  const seen = (at) => at.checkVisibility() && !at.closest("[inert]") && !at.matches(":disabled");
  const said = () => document.querySelector(".sr[role=status]")?.textContent ?? "";
  const here = location.hash, found = [];
  const fields = [...main().querySelectorAll("input, select, textarea")].filter(seen);
  found.push(...fields.map((at) => `field ${at.id || at.name || at.type}`));
  window.print = () => {};
  for (let i = 0; ; i += 1) {
    const button = [...main().querySelectorAll("button")].filter(seen)[i];
    if (!button) break;
    const name = button.getAttribute("aria-label") ?? button.innerText;
    button.click();
    await frame();
    await frame();
    if (said().includes(refusal) || document.querySelector("dialog[open]")) found.push(`button ${name}`);
    if (location.hash !== here) break;
  }
  return found;
}"""
