"""The demo farm with does to watch, a night going on, kids, supplies, tasks and a hand-over."""

from __future__ import annotations

from tests.browser.barn import Barn

WATCHED, PUSHING, KIDDING, DRIED, KID = "Bracken", "Comfrey", "Sorrel", "Bramble", "Nettle"
MAKE = "from tests.support.lately_farm import Lately; Lately().live()"


def make_lately(barn: Barn) -> None:
    """Before anybody has signed in: a phone that is open hears of it within a minute alone."""
    barn.server.manage("shell", "-c", MAKE)
