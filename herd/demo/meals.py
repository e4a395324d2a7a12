"""Ninety days of meals: one tap a pen and meal by whoever did the chores, and what was seen at the feeder."""

from __future__ import annotations

from random import Random

from .cast import FAMILY, HELPER, OWNER, PENS, START
from .diary import Diary, Written
from .does import DOES
from .plans import members, planned

HOURS = {"morning": ("05:3{0}", "06:1{0}"), "evening": ("17:2{0}", "18:0{0}")}
CARRIED_BY = {"morning": (OWNER, OWNER, FAMILY), "evening": (FAMILY, OWNER, HELPER)}
# One meal in thirty nobody tapped; in the last week only the one named here.
FORGOTTEN_ONE_IN = 30
LAST_WEEK = 8
FORGOTTEN = {("young", 4, "evening")}
# doe, day, meal, how, share left
SEEN = (
    ("marigold", 1, "evening", "left_some", 40),
    ("marigold", 0, "morning", "left_some", 70),
    ("marigold", 0, "evening", "left_some", 60),
    ("hazel", 11, "morning", "left_some", 30),
    ("hazel", 10, "morning", "slow", 0),
    ("bramble", 19, "evening", "left_some", 20),
    ("fennel", 33, "morning", "left_some", 50),
    ("fennel", 32, "evening", "ate_all", 0),
    ("dot", 46, "evening", "slow", 0),
    ("yarrow", 9, "morning", "slow", 0),
)


def meals(diary: Diary, ids: dict[str, str], rng: Random) -> None:
    for ago in range(START, -1, -1):
        for slot in HOURS:
            who = rng.choice(CARRIED_BY[slot])
            late = rng.randrange(2)
            for place, pen in enumerate(PENS):
                clock = HOURS[slot][late].format(2 * place + rng.randrange(2))
                if _tapped(pen.key, ago, slot, rng):
                    _feed(diary, ids, who, (pen.key, ago, slot), clock)
    for doe, ago, slot, how, left in SEEN:
        _see(diary, ids, doe, (ago, slot), (how, left))


def _tapped(pen: str, ago: int, slot: str, rng: Random) -> bool:
    forgotten = rng.randrange(FORGOTTEN_ONE_IN) == 0
    return (pen, ago, slot) not in FORGOTTEN if ago <= LAST_WEEK else not forgotten


def _feed(diary: Diary, ids: dict[str, str], who: str, meal: tuple[str, int, str], clock: str) -> None:
    pen, ago, slot = meal
    lines = [{"to": "", "feed": ids.get(feed, feed), "g": g} for feed, g in planned(pen, slot, ago)]
    for doe in members(pen, ago):
        lines += [{"to": ids[doe.key], "feed": ids.get(feed, feed), "g": g} for feed, g in planned(doe.key, slot, ago)]
    data = {"lines": lines, "adds": False}
    diary.note(who, ago, clock, "fed", ids[pen], data, slot=slot, key=_key(pen, ago, slot))


def _see(diary: Diary, ids: dict[str, str], key: str, when: tuple[int, str], seen: tuple[str, int]) -> None:
    ago, slot = when
    doe = next(doe for doe in DOES if doe.key == key)
    pen = next(where for start, where in reversed(doe.pens) if start >= ago)
    meal = _key(pen, ago, slot)

    def data(written: Written) -> dict[str, object]:
        return {"how": seen[0], "left_pct": seen[1], "feed": "", "fed": written[meal]["id"]}

    diary.follow(HELPER, meal, "intake", ids[key], data, seen_key(key, ago, slot))


def seen_key(doe: str, ago: int, slot: str) -> str:
    return f"seen|{doe}|{ago}|{slot}"


def _key(pen: str, ago: int, slot: str) -> str:
    return f"fed|{pen}|{ago}|{slot}"
