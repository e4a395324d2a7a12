"""The demo farm with does to watch, a night going on, kids, supplies, tasks and a hand-over."""

from __future__ import annotations

from tests.browser.barn import Barn, subject

WATCHED, PUSHING, KIDDING, DRIED, KID = "Bracken", "Comfrey", "Sorrel", "Bramble", "Nettle"
NEWER = (
    *("watch", "due", "kid", "milk", "year", "own task", "back", "farm kit", "kit ", "farm me/notices"),
    *("doe watched", "doe in labour", "doe night", "doe kids", "doe dry", "doe close_up", "doe fresh", "doe back"),
    "doe heat",
)
MAKE = "from tests.support.lately_farm import Lately; Lately().live()"


def make_lately(barn: Barn) -> None:
    """Before anybody has signed in: a phone that is open hears of it within a minute alone."""
    barn.server.manage("shell", "-c", MAKE)


def lately(barn: Barn) -> dict[str, str]:
    """What is there to be seen only where the farm was given it (`make_lately`)."""
    if not barn.knows("kid", KID):
        return {}
    kidding, kid = subject(barn, "doe", KIDDING), subject(barn, "kid", KID)
    return {
        "doe watched": f"doe/{subject(barn, 'doe', WATCHED)}",
        "doe in labour": f"doe/{subject(barn, 'doe', PUSHING)}",
        "doe night with kids": f"doe/{kidding}/night",
        "doe kids tonight": f"doe/{kidding}/kids",
        **{f"kid {page}": f"kids/{kid}/{page}".rstrip("/") for page in ("", "edit", "grown")},
        "doe dry in milk": f"doe/{subject(barn, 'doe', DRIED)}/dry",
        "kit thing": f"farm/kit/{subject(barn, 'kit', 'Towels')}",
        "own task": f"year/own/{subject(barn, 'own_task', 'Order hay', 'title')}",
    }


def is_new(name: str) -> bool:
    """What came with kidding and the year: seen in each look, with all its folds open."""
    return name.startswith(NEWER)
