"""Somebody looks after the farm for some days: the pack is made, her phone opens on it alone, and is wiped after."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn, until
from tests.browser.measures import wrong
from tests.browser.people import OWNER, picture
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.browser.sitters import TOLD, change_dates, comes, day, invited, make_pack, newest_pack
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(300)]
MINUTE_MS = 60_000
DAY_MS = 24 * 60 * MINUTE_MS
PEN, DOE, LOOKED = "Parlour side", "Juniper", "Teasel"


@pytest.fixture
def packed(barn: Barn, owner: Screen) -> Iterator[Screen]:
    make_pack(owner)
    owner.all_sent()
    yield owner
    take_away(owner, newest_pack(barn))


def take_away(owner: Screen, pack: str) -> None:
    """The tests of this file share the farm: no pack of one is in the way of the next."""
    owner.open("farm", "sitter", pack)
    owner.page.get_by_text(say("pack.gone"), exact=True).click()
    owner.button(say("pack.gone.go")).click()
    owner.all_sent()


def look_row(screen: Screen, name: str) -> Locator:
    return screen.page.locator("li.look-row", has=screen.page.get_by_text(name, exact=True))


def test_a_morning_by_a_sitter_without_a_signal_and_the_phone_is_wiped_after(
    barn: Barn, owner: Screen, phones: Callable[..., Screen]
) -> None:
    make_pack(owner)
    sitter = comes(phones, invited(owner, "Wilfa"), "Wilfa").controlled()
    sitter.all_sent()
    sitter.open()
    expect(sitter.heading(PEN)).to_be_visible()
    assert sitter.page.locator("nav.nav a").count() == 2
    expect(sitter.page.get_by_text(TOLD.splitlines()[1])).to_be_visible()
    expect(sitter.page.locator("a.call").first).to_contain_text(say("o.contact.vet"))
    expect(sitter.row(DOE)).to_contain_text(re.compile(r"Blue scoop.*400.g"))
    expect(sitter.row("Bramble")).to_contain_text(like("hold.milk.brief"))
    for closed in ("farm", "does", f"ration/{subject(barn, 'doe', DOE)}", "farm/rules", "setup/hay"):
        visit(sitter, closed)
        sitter.at(say("not_found"))

    before = len(barn.log())
    sitter.page.context.set_offline(True)
    sitter.open()
    sitter.button(say("slot.evening")).click()
    expect(sitter.heading(like("sitter.look"))).to_be_visible()
    row = look_row(sitter, LOOKED)
    sitter.button(f"{LOOKED}: {say('ate.up')}").click()
    expect(row.locator(".fed")).to_contain_text(say("did.up"))
    sitter.as_planned(PEN)
    expect(sitter.page.locator(".pen .fed").first).to_be_visible()
    sitter.button(f"Yarrow: {say('did.not_up')}").click()
    sitter.at(like("off"))
    sitter.open()
    expect(look_row(sitter, "Yarrow").locator(".fed")).to_contain_text(say("did.not_up"))
    sitter.page.context.set_offline(False)
    sitter.send_now()
    sitter.all_sent()
    assert {"fed", "intake"} <= set(barn.added(before))

    owner.send_now()
    owner.all_sent()
    owner.open().button(say("slot.evening")).click()
    pen = owner.page.locator(".pen", has=owner.page.get_by_text(PEN, exact=False)).first
    expect(pen).to_contain_text("Wilfa")

    person = barn.ask("SELECT person_id FROM herd_membership ORDER BY id DESC LIMIT 1")[0][0]
    barn.ask(f"UPDATE herd_membership SET ends_on = '{day(-1)}' WHERE person_id = '{person}'")
    sitter.send_now()
    expect(sitter.heading(like("notice.removed.title"))).to_be_visible()
    until(lambda: DOE not in sitter.page.evaluate(HELD), "her phone holds nothing of the farm")
    take_away(owner, newest_pack(barn))


def test_the_family_is_told_why_before_the_tap_and_refused_by_the_server(
    barn: Barn, packed: Screen, another: Callable[..., Screen]
) -> None:
    jory = another("Jory")
    doe = subject(barn, "doe", DOE)
    mix = subject(barn, "feed", "Stand mix")
    visit(jory, f"ration/{doe}/morning/{mix}")
    jory.page.get_by_role("textbox").first.fill("300")
    before = len(barn.log())
    jory.button(say("ration.save")).click()
    expect(jory.page.get_by_text(like("gate.waits.stands")).first).to_contain_text(OWNER)
    assert barn.added(before, "ration") == []
    jory.button(say("gate.wish", owner=OWNER)).click()
    jory.all_sent()
    assert barn.added(before, "ration", "wish") == ["wish"]


def test_what_was_planned_before_is_the_owners_to_settle_and_to_take_back(
    barn: Barn, owner: Screen, another: Callable[..., Screen]
) -> None:
    jory = another("Jory")
    place = f"ration/{subject(barn, 'doe', DOE)}/morning/{subject(barn, 'feed', 'Stand mix')}"
    phones = {owner: "390", jory: "380"}
    for screen in phones:
        screen.page.context.set_offline(True)
    for screen, grams in phones.items():
        visit(screen, place)
        screen.page.get_by_role("textbox").first.fill(grams)
        screen.button(say("ration.save")).click()
        screen.saved()
        screen.page.context.set_offline(False)
        screen.send_now()
        screen.all_sent()
    make_pack(owner)
    for screen in (owner, jory):
        screen.send_now()
        screen.all_sent()
        visit(screen, "questions")
    before, why = len(barn.log()), like("stands.ask", owner=OWNER)
    asked = [screen.page.locator(".card", has=screen.page.get_by_text(like("q.ration.why"))) for screen in phones]
    expect(asked[0].get_by_role("button")).to_have_count(2)
    expect(asked[1].get_by_role("button")).to_have_count(1)
    expect(asked[1].get_by_text(why)).to_have_count(1)

    jory.doe(DOE).link(say("doe.last")).click()
    row = jory.page.locator("li.record").first
    expect(row).to_contain_text(re.compile("380"))
    expect(row).to_contain_text(why)
    expect(row.get_by_role("button")).to_have_count(0)
    expect(row.locator("summary")).to_have_count(0)
    assert barn.added(before) == []
    take_away(owner, newest_pack(barn))
    jory.send_now()
    jory.doe(DOE).link(say("doe.last")).click()
    expect(row.get_by_role("button")).to_have_count(1)


MARK = "white left ear, blue collar"


def test_a_mark_to_know_her_by_stands_where_she_has_no_picture(barn: Barn, owner: Screen) -> None:
    page, doe = owner.page, subject(barn, "doe", DOE)
    visit(owner, "farm/sitter/new")
    unknown = page.get_by_text(like("pack.unknown"))
    expect(unknown).to_contain_text(DOE)
    visit(owner, f"doe/{doe}/edit")
    page.locator("summary").first.click()
    page.get_by_label(say("f.mark"), exact=True).fill(MARK)
    owner.button(say("save")).click()
    owner.saved()
    owner.open().unfold()
    expect(owner.row(DOE)).to_contain_text(MARK)
    visit(owner, "farm/sitter/new")
    expect(unknown).to_be_visible()
    expect(unknown).not_to_contain_text(DOE)
    make_pack(owner)
    owner.all_sent()
    pack = newest_pack(barn)
    visit(owner, f"farm/sitter/{pack}")
    owner.link(say("pack.print")).click()
    expect(page.locator(".does li", has_text=DOE)).to_contain_text(MARK)
    take_away(owner, pack)
    visit(owner, f"doe/{doe}/pictures")
    with page.expect_file_chooser() as chosen:
        page.get_by_text(say("pictures.her"), exact=True).click()
    chosen.value.set_files(picture(90))
    expect(page.get_by_role("img", name=DOE)).to_be_visible()
    owner.open().unfold()
    expect(owner.row(DOE).locator("img.face")).to_be_visible()
    expect(owner.row(DOE)).not_to_contain_text(MARK)
    owner.all_sent()


def test_it_is_one_sheet_of_paper(barn: Barn, packed: Screen) -> None:
    page = packed.page
    pack = newest_pack(barn)
    visit(packed, f"farm/sitter/{pack}")
    packed.link(say("pack.print")).click()
    expect(page.get_by_text(like("paper.as_of"))).to_be_visible()
    for paper in ("A4", "Letter"):
        sheet = page.pdf(format=paper, margin=dict.fromkeys(("top", "bottom", "left", "right"), "12mm"))
        assert len(re.findall(rb"/Type\s*/Page\b", sheet)) == 1, paper


def test_on_the_first_day_the_open_phone_turns_to_the_pack_by_itself(
    barn: Barn, owner: Screen, phones: Callable[..., Screen]
) -> None:
    make_pack(owner, first=2, last=4)
    link = invited(owner, "Tansy")
    sitter = comes(phones, link, "Tansy", clock=True).controlled()
    pens, begins = sitter.page.locator(".pen"), sitter.page.get_by_text(like("sitter.begins"))
    expect(begins).to_be_visible()
    expect(pens).to_have_count(0)
    assert wrong(sitter.page) == []
    sitter.page.evaluate("() => { window.opened = true; }")

    # The server goes by its own day: it lets her in when hers has come.
    barn.ask(f"UPDATE herd_membership SET starts_on = '{day(0)}' WHERE starts_on = '{day(2)}'")
    sitter.page.clock.fast_forward(2 * DAY_MS)
    expect(pens.first).to_be_visible()
    expect(begins).to_have_count(0)

    # Whoever is in already keeps her first day: the owner's phone must have heard that she is.
    with owner.page.expect_response(lambda answer: "/changes" in answer.url):
        owner.page.reload()
    said = "SELECT count(*) FROM herd_event WHERE kind = 'pack'"
    before = barn.ask(said)
    change_dates(owner, newest_pack(barn), first=4, last=6)
    until(lambda: barn.ask(said) != before, "the pack's new days are on the server")
    sitter.page.clock.fast_forward(2 * MINUTE_MS)
    expect(begins).to_be_visible()
    assert wrong(sitter.page) == []
    sitter.page.context.set_offline(True)
    sitter.page.clock.fast_forward(2 * DAY_MS)
    expect(pens.first).to_be_visible()
    sitter.page.clock.fast_forward(3 * DAY_MS)
    expect(sitter.page.get_by_text(like("sitter.over"))).to_be_visible()
    expect(pens).to_have_count(0)
    assert wrong(sitter.page) == []
    assert sitter.page.evaluate("() => window.opened"), "it was not reloaded"


HELD = """async () => {
  const all = await indexedDB.databases();
  const read = (name) => new Promise((done) => {
    const asked = indexedDB.open(name);
    asked.onerror = () => done("");
    asked.onsuccess = async () => {
      const db = asked.result;
      let said = "";
      for (const store of db.objectStoreNames) {
        const rows = await new Promise((got) => {
          const all = db.transaction(store).objectStore(store).getAll();
          all.onsuccess = () => got(all.result);
          all.onerror = () => got([]);
        });
        said += JSON.stringify(rows);
      }
      db.close();
      done(said);
    };
  });
  return (await Promise.all(all.map(({ name }) => read(name)))).join("");
}"""
