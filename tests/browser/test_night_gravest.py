"""What the night asks before it ends: counted kids, when the pushing began, who is well."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.measures import wrong
from tests.browser.screen import Screen
from tests.browser.test_night_page import PHONE, night, out, records
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(400)]
MIN_MS = 60_000
NAME = "Teasel"


def test_a_clock_set_back_and_twins_that_were_counted(barn: Barn, phone: Screen) -> None:
    page = phone.page
    page.set_viewport_size(PHONE)
    phone.controlled()
    phone.form(NAME, "preg_check")
    page.locator("input[name=f-result][value=pregnant]").check(force=True)
    page.locator("input[name=f-kids][value='2']").check(force=True)
    phone.button(say("save")).click()
    phone.saved()
    night(phone, NAME)
    phone.button(say("off.labour.water_bag")).click()
    expect(page.get_by_role("heading", name=like("night.water"))).to_be_visible()
    page.get_by_text(say("since.earlier")).click()
    phone.button(say("since.min", n=20)).click()
    expect(page.get_by_text(like("since.from"))).to_be_visible()
    assert wrong(page) == []
    phone.button(say("off.labour.straining")).click()
    expect(page.get_by_role("timer")).to_contain_text("20:")
    out(phone, 1)
    phone.send_now()
    phone.all_sent()
    pushed = next(event for event in records(barn, "signs")[::-1] if event["data"]["seen"] == ["straining"])
    assert 19 * MIN_MS < pushed["entered"] - pushed["happened"] < 22 * MIN_MS
    before = len(records(barn, "kidded"))
    night(phone, NAME)
    phone.button(say("night.done", born=1, alive=1)).click()
    expect(page.get_by_text(say("night.counted", n=2, born=1))).to_be_visible()
    assert wrong(page) == []
    phone.button(say("night.counted.wait")).click()
    phone.read()
    phone.button(say("night.done", born=1, alive=1)).click()
    phone.read()
    phone.button(say("night.counted.none", born=1, alive=1)).click()
    expect(page.get_by_text(say("night.written", born=1, alive=1))).to_be_visible()
    phone.send_now()
    phone.all_sent()
    assert len(records(barn, "kidded")) == before + 1
