"""What can be done about a feed prompt, on the doe's page: offered, put in her plan, taken out, without a signal."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, ViewportSize, expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen
from tests.browser.tapped_acts import PASSWORD, PERSON, each_act, plant
from tests.support.act_farm import FIRST
from tests.support.live import Server
from tests.support.words import like, say

pytestmark = pytest.mark.browser
PHONE: ViewportSize = {"width": 360, "height": 740}
LEAST_PX = 60


@pytest.fixture(scope="module")
def planted(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A farm with a doe for each thing that can be done."""
    server = Server(tmp_path_factory.mktemp("acts"))
    plant(server)
    with server:
        yield server


@pytest.fixture(scope="module")
def offline(planted: Server, browser: Browser) -> Iterator[Screen]:
    """Odette's phone with everything fetched, and no server any more."""
    context = browser.new_context(viewport=PHONE, has_touch=True, is_mobile=True, locale="en-GB")
    page: Page = context.new_page()
    screen = Screen(page, planted.url).sign_in(PERSON, PASSWORD).controlled()
    planted.freeze()
    yield screen
    planted.thaw()
    context.close()


def worked_out(screen: Screen) -> Locator:
    acts = screen.page.locator(".acts")
    expect(acts).to_have_attribute("aria-busy", "false")
    return acts


def offered(screen: Screen) -> Locator:
    """The act that is offered first."""
    worked_out(screen)
    return screen.page.locator(".act-offer").first


def said(screen: Screen) -> str:
    return worked_out(screen).inner_text()


@pytest.mark.parametrize("name", FIRST)
def test_each_act_goes_into_the_plan_with_one_tap_and_out_with_one(offline: Screen, name: str) -> None:
    offline.doe(name.title())
    before = said(offline)
    act = offered(offline)
    code = FIRST[name][1]
    expect(act).to_have_attribute("data-act", code)
    expect(act.get_by_role("heading")).to_have_text(say(f"act.{code}"))
    promise = act.locator(".brings").all_inner_texts()
    assert promise
    button = act.get_by_role("button")
    box = button.bounding_box()
    assert box
    assert box["height"] >= LEAST_PX
    button.click()
    offline.saved()
    kept = offline.page.locator(".adopted")
    expect(kept).to_contain_text(say(f"act.{code}"))
    # the plan answers by itself now, or nothing is said any more
    expect(offline.page.locator(".acts[aria-busy=true]")).to_have_count(0)
    expect(offline.page.locator(".act-offer")).to_have_count(0)
    offline.button(say("undo")).last.click()
    expect(kept).to_have_count(0)
    assert said(offline) == before


def test_what_was_put_in_is_taken_out_later_from_her_plan(offline: Screen) -> None:
    offline.doe("Fern")
    offered(offline).get_by_role("button").click()
    offline.saved()
    offline.chores()
    offline.doe("Fern")
    expect(offline.page.locator(".adopted")).to_contain_text(say("act.fill_feeder"))
    offline.button(say("act.take_out")).click()
    expect(offline.page.locator(".adopted")).to_have_count(0)
    expect(offered(offline)).to_contain_text(say("act.fill_feeder"))


def test_other_ways_stand_folded_behind_the_first(offline: Screen) -> None:
    offline.doe("Fern")
    worked_out(offline)
    expect(offline.page.locator(".act-offer:visible")).to_have_count(1)
    offline.page.get_by_text(say("act.other")).click()
    expect(offline.page.locator(".act-offer:visible")).to_have_count(3)


def test_every_act_of_the_demo_farm_goes_in_and_out_without_a_signal(phone: Screen, barn: Barn) -> None:
    """One tap writes it, her plan shows it and what it promised, and one undo brings back all that stood before."""
    phone.page.set_viewport_size(PHONE)
    barn.server.freeze()
    rows = list(each_act(phone))
    barn.server.thaw()
    assert rows
    for row in rows:
        assert row.button_px >= LEAST_PX, row
        # an act for a whole feeder names whom it brings it
        assert like("act.brings").search(row.brings) or like("act.brings.doe").search(row.brings), row
        assert row.plan_then != row.plan, row
        assert row.brings.partition("rom ")[2] in row.adopted, row
        assert row.undone, row


@pytest.mark.slow
def test_the_other_ways_too(offline: Screen) -> None:
    rows = list(each_act(offline))
    assert len(rows) > len(FIRST)
    assert {row.code for row in rows} >= {code for _, code in FIRST.values()}
    for row in rows:
        assert row.plan_then != row.plan, row
        assert row.undone, row


def test_an_act_of_the_demo_farm_is_put_in_and_taken_out(phone: Screen, barn: Barn) -> None:
    barn.server.freeze()
    phone.doe("Yarrow")
    act = offered(phone)
    before = act.inner_text()
    assert like("act.brings").search(before)
    act.get_by_role("button", name=say("act.put")).click()
    phone.saved()
    expect(phone.page.locator(".adopted")).to_contain_text(like("act.adopted"))
    phone.button(say("undo")).last.click()
    assert offered(phone).inner_text() == before
    barn.server.thaw()


def test_what_a_helper_may_not_put_in_waits_for_the_owner_and_goes_in_whole(
    barn: Barn, another: Callable[..., Screen]
) -> None:
    """She has no signal; what the act is and what it promises is kept when it is let in on another phone."""
    before = len(barn.log())
    hers = another("Mirrin").controlled()
    barn.server.freeze()
    hers.doe("Yarrow")
    act = offered(hers)
    heading = act.get_by_role("heading").inner_text()
    act.get_by_role("button", name=say("act.ask", owner="Odette")).click()
    hers.saved()
    expect(act).to_contain_text(like("act.sent", owner="Odette", name="Yarrow"))
    expect(act.get_by_role("button")).to_have_count(0)
    barn.server.thaw()
    hers.send_now()
    until(lambda: len(added(barn, before, "wish")) > 0, "it is sent")
    wishes = added(barn, before, "wish")
    owners = another("Odette", "Tumblegate").open()
    card = owners.page.get_by_text(say("wish.act", who="Mirrin", name="Yarrow", act=heading))
    expect(card).to_be_visible()
    owners.button(say("wish.let_in")).click()
    expect(card).to_have_count(0)
    until(lambda: len(added(barn, before, "ration")) == len(wishes), "the plan is sent")
    kept = ("slot", "feed", "steps", "act", "of", "from_pm", "to_pm", "by_on")
    let_in = [event["data"] for event in added(barn, before, "ration")]
    asked = [event["data"] for event in wishes]
    assert [[data[name] for name in kept] for data in let_in] == [[data[name] for name in kept] for data in asked]
    assert [data["wish"] for data in let_in] == [one["id"] for one in wishes]
    assert barn.refused() == 0


def added(barn: Barn, since: int, kind: str) -> list[dict[str, Any]]:
    return [event for event in barn.log()[since:] if event["kind"] == kind]


def test_a_move_is_made_and_unmade_without_a_signal(offline: Screen) -> None:
    """One tap: from tomorrow she stands in a pen named after her; tonight all is as it was. Out again the next look."""
    offline.doe("Olive")
    act = offered(offline)
    expect(act).to_have_attribute("data-act", "move")
    pen = say("act.move.pen", name="Olive")
    expect(act).to_contain_text(like("act.move.line.alone", name="Olive", pen=pen))
    act.get_by_role("button", name=say("act.put")).click()
    offline.saved()
    kept = offline.page.locator(".adopted")
    expect(kept).to_contain_text(like("act.move.line.alone", name="Olive", pen=pen))
    # she is fed where she stands until the day is over
    expect(offline.page.locator(".of-her")).to_contain_text("Orchard")
    offline.chores()
    made = offline.page.locator(".pen", has=offline.page.get_by_role("heading", name=pen))
    expect(made).to_contain_text(say("pen.count", n=0))
    offline.doe("Olive")
    offline.button(say("act.take_out")).click()
    expect(kept).to_have_count(0)
    expect(offered(offline)).to_have_attribute("data-act", "move")
    offline.chores()
    expect(made).to_have_count(0)
