"""A helper reads what is hers to do, and finds the reason where a button of the owner's would stand."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn
from tests.browser.screen import Screen
from tests.support.words import say

pytestmark = pytest.mark.browser


def test_a_helper_sees_who_may_what_and_where_she_must_ask(barn: Barn, another: Callable[..., Screen]) -> None:
    feed = next(event["subject"] for event in barn.log() if event["kind"] == "feed")
    shelf = next(event for event in barn.log() if event["kind"] == "shelf")
    helper = another("Mirrin")
    page = helper.page
    helper.open("farm", "people")
    page.get_by_role("link", name=say("may")).click()
    expect(page.get_by_text(say("may.you", role=say("role.helper")))).to_be_visible()
    treated = page.get_by_role("listitem").filter(has_text=say("may.of.treatment"))
    expect(treated).to_contain_text(say("may.way.treatment"))

    helper.open("farm", "feeds", feed)
    expect(page.get_by_text(say("may.kept.feed"))).to_be_visible()
    expect(page.get_by_label(say("f.cp_pct_x10"))).to_have_count(0)
    expect(page.get_by_role("link", name=say("feeds.lab"))).to_have_count(0)
    page.get_by_label(say("f.name"), exact=True).fill("Sack by the door")
    helper.button(say("save")).click()
    helper.send_now()
    helper.all_sent()

    helper.open("shelf", shelf["data"]["f"]["card"], shelf["subject"])
    expect(page.get_by_text(say("may.kept.shelf"))).to_be_visible()
    expect(page.get_by_label(say("f.told"))).to_have_count(0)
    assert [event["data"]["f"] for event in barn.log() if event["subject"] == feed][-1] == {"name": "Sack by the door"}
