"""A phone whose clock was two years ahead in the barn and right again in the house."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.screen import Screen, records
from tests.support.words import like, say

pytestmark = [pytest.mark.browser, pytest.mark.timeout(240)]
SEEN = say("r.udder", fill=say("udder.fill.4"), uneven="")


def test_what_it_wrote_is_asked_about_and_filed_once_somebody_says_when_it_was(
    barn: Barn, phone: Screen, another: Callable[..., Screen]
) -> None:
    before, page = len(barn.log()), phone.page
    page.context.set_offline(True)
    page.clock.set_fixed_time(datetime.now(UTC) + timedelta(days=730))
    page.reload()
    phone.udder("Bramble", 4)
    phone.saved()
    page.clock.set_fixed_time(datetime.now(UTC))
    page.reload()
    page.context.set_offline(False)
    phone.send_now()
    until(lambda: barn.added(before) == ["udder"], "it is sent as it was written")
    phone.all_sent()

    other = another("Mirrin")
    for screen in (phone, other):
        screen.open()
        expect(screen.link(like("when.bar", n=1))).to_be_visible()
    assert barn.ask('SELECT "on" FROM herd_event ORDER BY rowid DESC LIMIT 1') == [("9999-12-31",)], "on no day"
    other.open("questions")
    expect(other.page.get_by_text(say("plans.who"))).to_be_visible()
    expect(other.page.get_by_role("main").get_by_role("button")).to_have_count(0)

    phone.link(like("when.bar", n=1)).click()
    phone.button(like("when.yesterday")).click()
    expect(page.get_by_text(say("q.none"))).to_be_visible()
    until(lambda: barn.added(before) == ["correct", "udder"], "the correction is sent")
    other.send_now()
    other.all_sent()
    for screen in (phone, other):
        screen.doe("Bramble")
        assert SEEN in records(screen)
        expect(screen.link(like("when.bar"))).to_have_count(0)
