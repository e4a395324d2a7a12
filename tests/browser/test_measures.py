"""Scoops, hay lots and jars: weighed, opened anew and shown, on a phone without a signal."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.people import picture
from tests.browser.places import subject, visit
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = pytest.mark.browser
FILLS = ["210", "214", "207", "212", "209"]


def weigh(screen: Screen, fills: list[str]) -> None:
    for place, fill in enumerate(fills):
        screen.page.locator(".fill input").nth(place).fill(fill)
    screen.button(say("weigh.save")).click()


# before an amount whose weight no longer holds
ABOUT = say("row.about", amount="")


def ration(screen: Screen, barn: Barn, doe: str, feed: str) -> None:
    visit(screen, f"ration/{subject(barn, 'doe', doe)}/morning/{feed}")


def give(screen: Screen, grams: str) -> None:
    screen.page.get_by_label(say("ration.amount"), exact=True).first.fill(grams)
    screen.button(say("ration.save")).click()


def all_the_same(screen: Screen) -> None:
    """More at once than a step, or than her limit, and meant: somebody who plans says why."""
    screen.page.get_by_text(say("gate.go")).click()
    screen.button(say("reason.had")).click()


def raise_of_hazel(screen: Screen, says: str, waiting: int) -> None:
    """Her mix is to go up tomorrow."""
    screen.doe("Hazel")
    expect(screen.page.locator("main")).to_contain_text(like(says, name="Hazel", feed="Stand mix"))
    expect(screen.page.locator("main li .aged", has_text=say("plan.held"))).to_have_count(waiting)


def test_an_old_weight_is_marked_and_a_raise_waits_for_five_fills(phone: Screen, barn: Barn) -> None:
    """The demo farm opened a bag since the blue scoop was weighed."""
    mix, scoop = subject(barn, "feed", "Stand mix"), subject(barn, "scoop", "Blue scoop")
    before = len(barn.log())
    barn.server.freeze()
    phone.chores()
    pen = phone.page.locator(".pen", has=phone.row("Bramble"))
    expect(pen.locator(".hay")).to_contain_text("Blue scoop")
    expect(phone.row("Bramble")).to_contain_text(ABOUT)
    raise_of_hazel(phone, "p.raise_will_wait", 2)
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
    raise_of_hazel(phone, "p.steps_ahead", 0)

    ration(phone, barn, "Bramble", mix)
    give(phone, "460")
    all_the_same(phone)
    phone.saved()
    phone.chores()
    expect(phone.row("Bramble")).to_contain_text("2¼")
    expect(phone.row("Bramble")).not_to_contain_text(ABOUT)
    barn.server.thaw()
    phone.send_now()
    phone.all_sent()
    assert barn.added(before, "calibration", "ration") == ["calibration", "ration"]
    weighed = [event for event in barn.log()[before:] if event["kind"] == "calibration"][0]
    assert (weighed["subject"], weighed["data"]["fills_g"]) == (scoop, [210, 214, 207, 212, 209])


def test_a_new_bag_is_one_tap_on_the_pen_and_one_undo(phone: Screen) -> None:
    """Barley's tin cup is fresh until the bag is said to be new; Teasel's barley goes up in three days."""
    phone.chores("evening")
    expect(phone.row("Wren")).to_contain_text(re.compile("^Wren.*2 "))
    phone.page.locator("summary", has_text=say("weigh.later")).click()
    phone.button(like("newbag.bag", feed="Barley grain, rolled")).click()
    phone.saved()
    expect(phone.row("Wren")).to_contain_text(ABOUT)
    expect(phone.page.get_by_role("link", name=like("measure.ask.rise", feed="Barley grain, rolled"))).to_be_visible()
    phone.button(say("undo")).last.click()
    expect(phone.row("Wren")).not_to_contain_text(ABOUT)


def test_a_feed_nobody_weighed_shows_weights_only(phone: Screen) -> None:
    phone.chores()
    expect(phone.row("Fennel").locator(".bowl b").last).to_have_text("200 g")


def test_another_unit_tells_what_is_planned_and_takes_what_was_typed(phone: Screen, barn: Barn) -> None:
    visit(phone, f"pen/{subject(barn, 'pen', 'Straw barn')}/fed")
    hay = phone.page.locator(".field", has_text="Meadow hay").first
    box, grams = hay.locator("input"), hay.get_by_role("button", name=say("unit.g"), exact=True)
    expect(box).to_have_value("1.36")
    grams.click()
    expect(box).to_have_value("1500")
    box.fill("2")
    hay.get_by_role("button", name=say("unit.flake"), exact=True).click()
    expect(box).to_have_value("2")
    expect(hay.locator(".hint")).to_have_text("2.2\u00a0kg")


def test_a_half_typed_amount_comes_back_in_the_unit_it_was_typed_in(phone: Screen, barn: Barn) -> None:
    visit(phone, f"pen/{subject(barn, 'pen', 'Straw barn')}/fed")
    hay = phone.page.locator(".field", has_text="Meadow hay").first
    hay.get_by_role("button", name=say("unit.g"), exact=True).click()
    hay.locator("input").fill("300")
    phone.page.reload()
    expect(hay.locator("input")).to_have_value("300")
    expect(hay.get_by_role("button", name=say("unit.g"), exact=True)).to_have_attribute("aria-pressed", "true")


def test_hay_is_weighed_by_the_flake_from_three_on(phone: Screen, barn: Barn) -> None:
    visit(phone, f"farm/lots/{subject(barn, 'lot', 'Meadow hay, July')}/flake")
    weigh(phone, ["1.2", "1.3"])
    expect(phone.page.get_by_role("alert")).to_have_text(say("weigh.few.flake", n=3, have=2))
    weigh(phone, ["1.2", "1.3", "1.4"])
    expect(phone.page.get_by_text("1.3 kg").first).to_be_visible()
    expect(phone.page.get_by_text(like("measure.spread", low="1.2\u00a0kg", high="1.4\u00a0kg"))).to_be_visible()


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
    phone.open("farm", "rules", "units")
    phone.page.get_by_text(say("o.units.lb"), exact=True).click()
    phone.button(say("rules.save.units")).click()
    phone.saved()
    ration(phone, barn, "Marigold", "barley_rolled")
    phone.button(say("unit.lb")).first.click()
    give(phone, "8")
    asked = phone.page.get_by_role("alert")
    expect(asked).to_contain_text(like("odd.ounces", g="8\u00a0lb", likely="8\u00a0oz", whom=say("odd.mini")))
    phone.button(say("odd.meant", g="8 oz")).click()
    all_the_same(phone)
    phone.saved()
    phone.send_now()
    phone.all_sent()
    assert [event["data"]["steps"][0]["g"] for event in barn.log() if event["kind"] == "ration"][-1] == 227
    phone.open("farm", "rules", "units")
    phone.page.get_by_text(say("o.units.metric"), exact=True).click()
    phone.button(say("rules.save.units")).click()
    phone.saved()


def test_pictures_of_a_scoop_a_label_and_an_udder_are_entries_of_the_farm(phone: Screen, barn: Barn) -> None:
    before = len(barn.log())
    scoop, feed = subject(barn, "scoop", "Tin cup"), subject(barn, "feed", "Stand mix")
    doe = subject(barn, "doe", "Sedge")
    taken = (
        ("container", f"farm/scoops/{scoop}", "Tin cup", say("photo.take")),
        ("label", f"farm/feeds/{feed}", "Stand mix", say("photo.take")),
        ("udder", f"doe/{doe}/pictures", "Sedge", say("pictures.udder")),
    )
    for shade, (what, address, name, label) in enumerate(taken):
        visit(phone, address)
        phone.page.get_by_label(label, exact=True).set_input_files(picture(shade * 90))
        shown = phone.page.get_by_role("img", name=say(f"picture.{what}.alt", name=name))
        expect(shown).to_be_visible()
        phone.page.reload()
        expect(shown).to_be_visible()
    phone.send_now()
    phone.all_sent()
    sent = [(event["kind"], event["subject"], event["data"]["what"]) for event in barn.log()[before:]]
    assert sent == [("picture", of, what) for of, what in ((scoop, "container"), (feed, "label"), (doe, "udder"))]
    marks = {event["data"]["sha256"] for event in barn.log()[before:]}
    assert {sha for (sha,) in barn.ask("SELECT sha256 FROM herd_blob")} == marks
