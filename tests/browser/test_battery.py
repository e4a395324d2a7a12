"""The battery goes, again and again, without a signal and in the middle of sending: what was called saved is there and
reaches the farm once. `MANGERLINE_BROWSER_KILLS=100` for the long run."""

from __future__ import annotations

import os
import random
import re
from collections import Counter

import pytest
from playwright.sync_api import expect

from tests.browser.barn import Barn, until
from tests.browser.chromium_process import Handset
from tests.browser.places import subject
from tests.browser.screen import Screen
from tests.support.words import like, say

KILLS = int(os.environ.get("MANGERLINE_BROWSER_KILLS", "2"))
# Chromium writes cookies every half minute: in the long run no kill takes the sign-in with it, and sending goes on.
COOKIES_KEPT_MS = 31_000 if KILLS > 10 else 0
pytestmark = [pytest.mark.browser, pytest.mark.timeout(150 + 20 * KILLS)]
# Longer than a phone may wait before it tries again.
ALL_SENT_MS = 120_000


def felt(screen: Screen, doe: str, fill: int) -> None:
    screen.open("doe", doe, "udder")
    screen.button(re.compile(f"^{re.escape(say(f'udder.fill.{fill}'))}")).click()
    screen.saved()


def test_what_was_called_saved_outlives_the_battery_and_arrives_once(barn: Barn, handset: Handset) -> None:
    dice, doe = random.Random(KILLS), subject(barn, "doe", "Teasel")
    screen = Screen(handset.switch_on(), barn.server.url)
    screen.sign_in("Jory", barn.passwords["Jory"]).controlled()
    screen.page.wait_for_timeout(COOKIES_KEPT_MS)
    before, said = len(barn.log()), Counter[int]()
    for turn in range(KILLS):
        assert handset.context
        handset.context.set_offline(turn % 2 == 0)
        fill = turn % 5
        felt(screen, doe, fill)
        said[fill] += 1
        screen.page.wait_for_timeout(dice.uniform(0, 400) if turn % 2 else 0)
        handset.battery_out()
        screen = Screen(handset.switch_on(), barn.server.url)
    screen.open().send_now()
    screen.sign_in_again_if_asked("Jory", barn.passwords["Jory"])
    expect(screen.chip).to_contain_text(like("status.sent"), timeout=ALL_SENT_MS)
    until(lambda: len(barn.added(before)) == KILLS, "every entry to arrive")
    there = Counter(event["data"]["fill"] for event in barn.log()[before:])
    assert there == said
    assert barn.refused() == 0
