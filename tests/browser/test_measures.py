"""Scoops, jars, holds and hands, on a phone without a signal; what others must know reaches their phones."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable
from datetime import date, timedelta

import pytest
from playwright.sync_api import Locator, expect

from tests.browser.barn import Barn
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
FILLS = ["210", "214", "207", "212", "209"]
# One grey dot: the smallest picture a camera could give.
DOT = base64.b64decode("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNoAAAAggCBd81ytgAAAABJRU5ErkJggg==")


def row(screen: Screen, name: str) -> Locator:
    return screen.page.locator("li.doe-row", has=screen.page.get_by_text(name, exact=True))


def weigh(screen: Screen, fills: list[str]) -> None:
    for place, fill in enumerate(fills):
        screen.page.locator(".fill input").nth(place).fill(fill)
    screen.button(say("weigh.save")).click()


def ration(screen: Screen, barn: Barn, doe: str, feed: str) -> Screen:
    plans = [event for event in barn.log() if event["kind"] == "ration" and event["data"]["slot"] == "morning"]
    of_feed = {event["subject"]: event["data"]["feed"] for event in plans if event["data"]["feed"] == feed}
    doe_id = subject(barn, "doe", doe)
    assert doe_id in of_feed
    visit(screen, f"ration/{doe_id}/morning/{feed}")
    return screen


def give(screen: Screen, grams: str) -> None:
    screen.page.get_by_label(say("ration.amount"), exact=True).first.fill(grams)
    screen.button(say("ration.save")).click()


def test_an_old_weight_is_marked_and_a_raise_waits_for_five_fills(phone: Screen, barn: Barn) -> None:
    """The demo farm opened a bag since the blue scoop was weighed."""
    mix, scoop = subject(barn, "feed", "Stand mix"), subject(barn, "scoop", "Blue scoop")
    before = len(barn.log())
    barn.server.freeze()
    phone.chores()
    expect(row(phone, "Bramble")).to_contain_text("Blue scoop")
    expect(row(phone, "Bramble")).to_contain_text(say("measure.old"))
    ration(phone, barn, "Bramble", mix)
    give(phone, "460")
    expect(phone.page.get_by_role("alert")).to_have_text(like("bad.raise.scoop", scoop="Blue scoop"))
    phone.page.get_by_role("link", name=like("measure.weigh.scoop")).click()

    weigh(phone, [*FILLS[:2], "2070", *FILLS[3:]])
    alert = phone.page.get_by_role("alert")
    expect(alert).to_have_text(say("weigh.odd.scoop", n=3, g="2.07 kg", usual="212 g"))
    expect(phone.page.locator(".fill input").nth(2)).to_be_focused()
    weigh(phone, FILLS)
    expect(phone.page.get_by_text("210 g").first).to_be_visible()
    expect(phone.page.locator("main")).not_to_contain_text(say("measure.old"))

    ration(phone, barn, "Bramble", mix)
    give(phone, "460")
    phone.saved()
    phone.chores()
    expect(row(phone, "Bramble")).to_contain_text("2¼ Blue scoop")
    expect(row(phone, "Bramble")).to_contain_text("13 g over")
    expect(row(phone, "Bramble")).not_to_contain_text(say("measure.old"))
    barn.server.thaw()
    phone.send_now()
    phone.all_sent()
    assert barn.added(before, "calibration", "ration") == ["calibration", "ration"]
    weighed = [event for event in barn.log()[before:] if event["kind"] == "calibration"][0]
    assert (weighed["subject"], weighed["data"]["fills_g"]) == (scoop, [210, 214, 207, 212, 209])


def test_a_new_bag_is_one_tap_on_the_pen_and_one_undo(phone: Screen) -> None:
    """Barley's tin cup is fresh until the bag is said to be new; Teasel's barley goes up in three days."""
    phone.chores("evening")
    expect(row(phone, "Wren")).to_contain_text("2 Tin cup")
    phone.button(like("newbag.bag", feed="Barley grain, rolled")).click()
    phone.saved()
    expect(row(phone, "Wren")).to_contain_text(say("measure.old"))
    expect(phone.page.get_by_role("link", name=like("measure.ask.rise", feed="Barley grain, rolled"))).to_be_visible()
    phone.button(say("undo")).last.click()
    expect(row(phone, "Wren")).not_to_contain_text(say("measure.old"))


def test_a_feed_nobody_weighed_shows_weights_only(phone: Screen) -> None:
    phone.chores()
    pellets = row(phone, "Fennel").locator(".feed", has_text="pellets")
    expect(pellets.locator("b").first).to_have_text("200 g")


def test_hay_is_weighed_by_the_flake_from_three_on(phone: Screen, barn: Barn) -> None:
    visit(phone, f"farm/lots/{subject(barn, 'lot', 'Meadow hay, July')}/flake")
    weigh(phone, ["1.2", "1.3"])
    expect(phone.page.get_by_role("alert")).to_have_text(say("weigh.few.flake", n=3, have=2))
    weigh(phone, ["1.2", "1.3", "1.4"])
    expect(phone.page.get_by_text("1.3 kg").first).to_be_visible()
    expect(phone.page.get_by_text(like("measure.spread", low="1.2\u00a0kg", high="1.4\u00a0kg"))).to_be_visible()


def test_a_hold_is_seen_on_everybodys_phone(phone: Screen, barn: Barn, another: Callable[[str, str], Screen]) -> None:
    until = date.fromisoformat(barn.log()[-1]["on"]) + timedelta(days=30)
    phone.form("Juniper", "treatment")
    page = phone.page
    page.get_by_label(say("f.given"), exact=True).fill("What the vet brought")
    page.get_by_label(say("f.milk_until"), exact=True).fill(until.isoformat())
    phone.button(say("treat.save")).click()
    phone.at("Juniper")
    phone.send_now()
    phone.all_sent()

    helper = another("Mirrin", "")
    held = re.compile(f"{re.escape(say('hold.milk', on='').split(',')[0].strip())} \\w+ {until.day} ")
    helper.chores()
    expect(row(helper, "Juniper")).to_contain_text(like("hold.milk.brief"))
    expect(helper.page.get_by_text(like("hold.pen"))).to_contain_text("Juniper")
    helper.doe("Juniper")
    expect(helper.page.get_by_text(held)).to_be_visible()
    helper.form("Juniper", "milk")
    expect(helper.page.get_by_text(held)).to_be_visible()
    helper.open("farm", "treatments")
    expect(helper.page.get_by_text(held).first).to_be_visible()

    phone.open("farm", "treatments")
    taken = page.get_by_role("listitem").filter(has_text="What the vet brought")
    taken.get_by_role("button").click()
    expect(taken).to_contain_text(say("last.taken"))
    phone.doe("Juniper")
    expect(page.get_by_text(held)).to_have_count(0)
    expect(page.locator("li.record", has_text="What the vet brought").first).to_contain_text(say("last.taken"))


def test_a_second_source_of_selenium_is_asked_about_with_all_of_them(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    phone.form("Teasel", "treatment")
    phone.page.get_by_label(say("f.given"), exact=True).fill("A bolus")
    phone.page.get_by_label(say("f.selenium"), exact=True).check()
    phone.button(say("treat.save")).click()
    told = phone.page.get_by_role("alert")
    expect(told).to_contain_text(like("carries.given", product="Trace mineral shot by the vet"))
    expect(told).to_contain_text(like("carries.feed", feed="Loose mineral, blue bag"))
    assert barn.added(before, "treatment") == []
    phone.button(say("carries.save")).click()
    phone.at("Teasel")
    expect(phone.page.get_by_text(say("carries.twice", mineral="selenium"))).to_be_visible()


def test_a_jar_has_its_days_and_ends_with_one_tap(phone: Screen) -> None:
    phone.open("farm", "jars")
    jar = phone.page.get_by_role("region", name="Jar 2")
    expect(jar.get_by_role("listitem")).to_have_count(8)
    expect(jar.locator("li", has_text=say("day.0"))).to_have_text(re.compile(r"Day\s*3,"))
    expect(jar.locator("li", has_text=say("jar.ready"))).to_have_text(re.compile(r"Day\s*6,"))
    expect(jar).to_contain_text(like("jar.st.growing", n=3, days=6))
    expect(jar).to_contain_text(say("jar.throw", n=7))
    jar.get_by_role("button", name=say("jar.thrown")).click()
    expect(jar).to_have_count(0)
    phone.button(say("undo")).last.click()
    expect(jar).to_be_visible()


def test_ounces_typed_as_pounds_are_asked_about(phone: Screen, barn: Barn) -> None:
    phone.open("farm", "rules")
    phone.page.get_by_text(say("o.units.lb"), exact=True).click()
    phone.button(say("rules.save.units")).click()
    phone.saved()
    ration(phone, barn, "Marigold", "barley_rolled")
    phone.button(say("unit.lb")).first.click()
    give(phone, "8")
    asked = phone.page.get_by_role("alert")
    expect(asked).to_contain_text(like("odd.ounces", g="8\u00a0lb", likely="8\u00a0oz", whom=say("odd.mini")))
    phone.button(say("odd.meant", g="8 oz")).click()
    phone.saved()
    phone.send_now()
    phone.all_sent()
    assert [event["data"]["steps"][0]["g"] for event in barn.log() if event["kind"] == "ration"][-1] == 227
    phone.open("farm", "rules")
    phone.page.get_by_text(say("o.units.metric"), exact=True).click()
    phone.button(say("rules.save.units")).click()
    phone.saved()


def test_the_last_days_to_slim_her_ask_for_a_score(phone: Screen) -> None:
    """Juniper is at day 75; without her last score nobody has felt her for a month."""
    phone.doe("Juniper")
    expect(phone.page.get_by_text(like("slim.ask"))).to_have_count(0)
    phone.page.locator("li.record", has_text=say("r.score", x100="3.0")).get_by_role("button").first.click()
    expect(phone.page.get_by_text(say("slim.ask", n=75))).to_be_visible()
    phone.chores()
    expect(row(phone, "Juniper")).to_contain_text(say("slim.row", n=75))
    phone.score("Juniper", 3)
    expect(phone.page.get_by_text(like("slim.ask"))).to_have_count(0)


def test_between_two_pictures_gives_a_quarter(phone: Screen) -> None:
    phone.form("Wren", "score")
    expect(phone.page.get_by_text(like("score.last"))).to_contain_text("Odette")
    expect(phone.page.get_by_text(like("score.band"))).to_be_visible()
    loin = phone.page.get_by_role("group", name=say("score.loin"), exact=True)
    brisket = phone.page.get_by_role("group", name=say("score.brisket"), exact=True)
    loin.get_by_role("button", name=re.compile("^3")).click()
    expect(phone.page.get_by_text(say("score.now_brisket"))).to_be_visible()
    brisket.get_by_role("button", name=re.compile("^3")).click()
    brisket.get_by_role("button", name=re.compile("^2")).click()
    phone.button(say("score.save", x100="2.75")).click()
    phone.at("Wren")
    expect(phone.page.get_by_text(re.compile(r"^2\.75, .* by you$"))).to_be_visible()


def test_an_uneven_udder_is_said_until_both_halves_are_felt(phone: Screen) -> None:
    phone.form("Yarrow", "udder")
    phone.page.get_by_label(say("udder.uneven")).check()
    phone.button(re.compile(f"^{re.escape(say('udder.fill.2'))}")).click()
    phone.at("Yarrow")
    expect(phone.page.get_by_text(like("uneven.said"))).to_be_visible()
    phone.chores()
    expect(row(phone, "Yarrow")).to_contain_text(say("uneven.row"))
    phone.doe("Yarrow").button(say("uneven.fine")).click()
    expect(phone.page.get_by_text(like("uneven.said"))).to_have_count(0)
    expect(phone.page.get_by_text(say("vet.seen.udder.fine")).first).to_be_visible()


def test_a_photo_stays_on_this_phone(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    scoop = subject(barn, "scoop", "Tin cup")
    visit(phone, f"farm/scoops/{scoop}")
    files = [{"name": "cup.png", "mimeType": "image/png", "buffer": DOT}]
    phone.page.locator("input[type=file]").set_input_files(files)  # type: ignore[arg-type]
    picture = phone.page.get_by_role("img", name=say("photo.alt", name="Tin cup"))
    expect(picture).to_be_visible()
    phone.page.reload()
    expect(picture).to_be_visible()
    phone.send_now()
    phone.all_sent()
    assert barn.log()[before:] == []
    visit(phone, f"farm/scoops/{scoop}")
    phone.button(say("photo.drop")).click()
    expect(picture).to_have_count(0)
