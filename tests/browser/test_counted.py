"""The busiest pages stay as short as they were counted: a twelfth more words, or less than a fifth of a screen more."""

from __future__ import annotations

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from tests.browser.barn import ZONE, Barn
from tests.browser.counts import HIGH, WIDE, Counted, at_dawn, count
from tests.browser.places import addresses, visit
from tests.browser.screen import Screen

pytestmark = [pytest.mark.browser, pytest.mark.timeout(120)]
# Words, controls and screens on the demo farm: `python -m tests.browser.counts`. Chores was 487 words and 7.8 screens
# once, the doe's page 475 and 6.
BUDGET = {"chores": Counted(360, 72, 3.95), "doe": Counted(295, 26, 3.4), "doe in trouble": Counted(235, 28, 3.2)}


@pytest.mark.parametrize("name", BUDGET)
def test_the_busiest_pages_are_as_short_as_they_were(phone: Screen, barn: Barn, name: str) -> None:
    page, most = phone.page, BUDGET[name]
    page.set_viewport_size({"width": WIDE, "height": HIGH})
    visit(phone, addresses(barn)[name])
    if name == "chores":
        at_dawn(page)
    found = count(phone)
    page.clock.set_fixed_time(datetime.now(ZoneInfo(ZONE)))
    print(f"{name}: {found}, at most {most}")
    assert (found.words <= most.words, found.controls <= most.controls, found.screens <= most.screens) == (True,) * 3
