"""A round of the barn by thumb: how many taps it takes, and what each of them writes."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import expect

from tests.browser.barn import ZONE, Barn
from tests.browser.places import PAINTED, visit
from tests.browser.rows import COUNT_TAPS, LEFT, row, tap
from tests.browser.screen import Screen
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
MOST_TAPS = 9
BARN_PX = 72
BARN_BUTTONS = """() => [...document.querySelectorAll("main .btn.barn, main .btn.act:not(.slim)")]
  .filter((at) => at.checkVisibility()).map((at) => [at.getBoundingClientRect().height, at.innerText])"""


def ahead(days: int, hour: int) -> datetime:
    """Nobody has fed anything yet on a day to come. What is recorded then counts last, so these tests stand last."""
    return datetime.now(ZoneInfo(ZONE)).replace(hour=hour, minute=0, second=0, microsecond=0) + timedelta(days=days)


def morning(screen: Screen, barn: Barn) -> None:
    """A morning to come, on the phone of somebody without a signal."""
    barn.server.stop()
    screen.page.clock.set_fixed_time(ahead(2, 6))
    screen.open().page.reload()
    expect(screen.heading(say("chores"))).to_be_visible()
    expect(screen.button(say("slot.morning"))).to_have_attribute("aria-pressed", "true")


def test_one_is_missing_until_somebody_finds_her_on_any_phone(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    phone.open()
    tap(phone, say("heads.one"))
    phone.page.locator(".tiles").get_by_role("button", name="Clover", exact=True).click()
    look = phone.page.get_by_role("navigation", name=say("chores.look_now"))
    expect(look).to_contain_text("Clover, Long feeder")
    expect(phone.page.get_by_text(like("heads.some", names="Clover"))).to_be_visible()
    phone.send_now()
    phone.all_sent()

    mirrin = another("Mirrin").open()
    other = mirrin.page.get_by_role("navigation", name=say("chores.look_now"))
    expect(other).to_contain_text("Clover, Long feeder")
    other.get_by_role("button", name=f"Clover: {say('heads.found')}").click()
    expect(other.get_by_text("Clover, Long feeder")).to_have_count(0)
    expect(mirrin.page.locator(".fed").first).to_contain_text(like("heads.all.told"))


def test_pens_and_does_stand_in_the_order_that_was_chosen_and_one_undo_puts_them_back(phone: Screen) -> None:
    pens = phone.page.locator(".pen h2")
    phone.open()
    first = pens.all_text_contents()
    visit(phone, "farm/order")
    assert all(height >= BARN_PX for height, _ in phone.page.evaluate(BARN_BUTTONS))
    tap(phone, say("order.down", name=first[0]))
    phone.open()
    expect(pens.first).to_have_text(first[1])
    visit(phone, "farm/order")
    tap(phone, say("order.up", name=first[0]))
    tap(phone, say("order.up", name="Juniper"))
    phone.page.locator(".toast").get_by_role("button", name=say("undo")).click()
    phone.open()
    expect(phone.page.locator(".doe-row b.name").first).to_have_text("Bramble")


def test_meals_nobody_confirmed_are_neither_fed_nor_refused(barn: Barn, phone: Screen) -> None:
    """Tomorrow at noon: the morning was never confirmed."""
    page, before = phone.page, len(barn.log())
    barn.server.stop()
    page.clock.set_fixed_time(ahead(1, 12))
    page.reload()
    meal = say("unsaid.meal", pen="Straw barn", on=say("day.0"), slot=say("slot.morning").lower())
    group = page.get_by_role("group", name=meal)
    page.locator("summary", has_text=like("unsaid.n")).click()
    group.get_by_role("button", name=say("unsaid.not_fed")).click()
    expect(group).to_have_count(0)
    other = page.get_by_role("group", name=meal.replace("Straw barn", "Young pen"))
    other.get_by_role("button", name=say("unsaid.fed")).click()
    expect(other).to_have_count(0)
    phone.chores("morning")
    pen = page.locator(".pen", has=page.get_by_role("heading", name="Straw barn"))
    expect(pen.locator(".fed")).to_contain_text(say("pen.not_fed", who=say("you")))

    page.clock.set_fixed_time(datetime.now(UTC))
    barn.server.start()
    phone.send_now()
    phone.all_sent()
    fed = [event for event in barn.log()[before:] if event["kind"] == "fed"]
    assert [event["slot"] for event in fed] == ["morning", "morning"]
    assert [any(line["g"] for line in event["data"]["lines"]) for event in fed] == [False, True]
    assert all(event["happened"] < event["entered"] for event in fed)


def sell_the_buck(screen: Screen) -> None:
    """Fourteen does are left, in four pens."""
    screen.form("Rafter", "left_herd")
    screen.page.get_by_text(say("o.why.sold"), exact=True).click()
    screen.button(say("save")).click()
    screen.saved()
    screen.send_now()
    screen.all_sent()


def test_a_round_of_fourteen_with_two_exceptions_takes_nine_taps(barn: Barn, phone: Screen) -> None:
    page = phone.page
    sell_the_buck(phone)
    before = len(barn.log())
    morning(phone, barn)
    expect(page.locator("li.doe-row")).to_have_count(14)
    page.evaluate(COUNT_TAPS)

    tap(phone, say("heads.all", of=14))
    tap(phone, re.compile(f"^({say('daily.all', n=1)}|{say('daily.all', n=2)})$"))
    tap(phone, f"{LEFT}: Bramble")
    tap(phone, f"{LEFT}: Hazel")
    pens = page.locator(".planned button")
    while pens.count():
        pens.first.click()
        page.evaluate(PAINTED)
    tap(phone, say("last_look.all"))

    taps = page.evaluate("() => window.taps")
    print(f"{len(taps)} taps: {taps}")
    assert len(taps) <= MOST_TAPS
    assert page.evaluate("() => window.keys") == 0
    expect(row(phone, "Hazel")).to_contain_text(say("ate.how_much"))
    expect(row(phone, "Hazel")).to_contain_text(like("held.raises"))
    for what in ("water", "hay", "released", "gates"):
        button = page.get_by_role("button", name=re.compile(f"^{say(f'last_look.{what}')}"))
        expect(button).to_have_attribute("aria-pressed", "true")

    page.clock.set_fixed_time(datetime.now(UTC))
    barn.server.start()
    phone.send_now()
    phone.all_sent()
    found = Counter(event["kind"] for event in barn.log()[before:])
    rounds = [event["data"] for event in barn.log()[before:] if event["kind"] == "round"]
    assert found["fed"] == 4
    assert found["round"] == 5
    assert found["freeze"] == 2, "nobody who left a meal is raised on the next"
    assert {(one["what"], one["count"], one["of"]) for one in rounds} >= {("heads", 14, 14), ("gates", 0, 0)}
    left = [one["data"] for one in barn.log()[before:] if one["kind"] == "intake" and one["data"]["how"] == "left_some"]
    assert [one["left_pct"] for one in left] == [0, 0]
    assert found["intake"] > 2, "each doe that gets no grain was looked at"
    assert barn.refused() == 0
