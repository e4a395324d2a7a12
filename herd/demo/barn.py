"""The rest of the barn: who to ring, the shelf, scoops and jars, what was given, who is looked at daily, and a buck."""

from __future__ import annotations

from random import Random
from typing import Any

from .cast import BARLEY, FAMILY, HELPER, MEADOW, MIX, OWNER
from .diary import Diary, Written
from .meals import seen_key
from .phone import uuid7

SET_UP = 60
# all invented; numbers kept for invented people
CONTACTS = (
    ("Odette", "owner", "555-0110"),
    ("Jory", "family", "555-0111"),
    ("Quillfeather Vet Practice", "vet", "555-0142"),
    ("Bryn, over the lane", "neighbour", "555-0117"),
)
# card, what the vet wrote, product, place, days until it expires
SHELF = (
    (
        "milk_fever",
        "Ring me before anything is given. Keep her on her breastbone.",
        "Calcium bottle",
        "Parlour shelf",
        140,
    ),
    ("toxemia", "Only to a doe that stands and swallows. Ring me first.", "Energy drink for does", "Feed room", -12),
)
# name, feed, weighings: (days ago, grams of each fill)
SCOOPS = (
    ("Blue scoop", MIX, ((52, (204, 211, 207, 209, 206)), (24, (212, 220, 208, 215, 211)))),
    ("Tin cup", BARLEY, ((20, (48, 51, 50, 49, 50)),)),
)
# opened since the blue scoop was weighed
NEW_BAG = (MIX, 1)
# doe, days ago, product, what the vet said, why, milk held through and meat held through (days ago), minerals
GIVEN: tuple[tuple[str, int, str, str, str, int, int, list[str]], ...] = (
    ("fennel", 44, "Udder tubes from the vet", "Until the box is empty.", "Clots in the left half", 36, 30, []),
    ("bramble", 3, "Udder tubes from the vet", "Until the box is empty.", "Clots in the right half", -2, -9, []),
    ("teasel", 16, "Trace mineral shot by the vet", "Once.", "Weak kids last year", 16, 2, ["selenium"]),
)
# near kidding and no grain to leave, and how many days ago somebody last looked: one has not been seen to today
LOOKED_AT_DAILY = (("teasel", 1), ("yarrow", 0), ("dot", 0))
DAILY_D = 9
BUCK, YARD, YARD_HAY_G = "Rafter", "Buck yard", 1_000
# a weekend long over, when somebody looked after the farm: first and last day, days ago
PACK, PACK_D = "The weekend at the lake", (58, 56)


def barn(diary: Diary, ids: dict[str, str], farm_id: str, rng: Random) -> None:
    def made() -> str:
        return uuid7(diary.at(SET_UP, "19:00"), rng)

    for place, (name, role, phone) in enumerate(CONTACTS):
        _record(diary, "contact", made(), {"name": name, "role": role, "phone": phone, "order": place})
    for card, told, product, where, expires in SHELF:
        fields = {"card": card, "told": told, "product": product, "place": where, "gone": False}
        _record(diary, "shelf", made(), {**fields, "expires_on": diary.day(-expires)})
    for place, (name, feed, weighings) in enumerate(SCOOPS):
        scoop = made()
        _record(diary, "scoop", scoop, {"name": name, "feed": ids.get(feed, feed), "order": place, "gone": False})
        for ago, fills in weighings:
            diary.note(FAMILY, ago, "18:50", "calibration", scoop, {"of": "scoop", "fills_g": list(fills), "lot": ""})
    diary.note(FAMILY, NEW_BAG[1], "17:05", "new_bag", farm_id, {"feed": ids.get(NEW_BAG[0], NEW_BAG[0])})
    jar = {"name": "Jar 2", "feed": "barley_grain", "dry_g": 500, "days": 6, "done_on": "", "thrown": False}
    _record(diary, "jar", made(), {**jar, "soaked_on": diary.day(3)}, 3)
    _pack(diary, ids)
    _given(diary, ids)
    _looked_at(diary, ids)
    _buck(diary, ids, made(), made())


def _pack(diary: Diary, ids: dict[str, str]) -> None:
    first, last = PACK_D
    words = {"ring_when": "When one does not come to eat.", "told": "The lower gate sticks: lift it."}
    looked = {"look": [ids["fennel"]], "look_slots": ["morning", "evening"]}
    days = {"from_on": diary.day(first), "to_on": diary.day(last)}
    subject = uuid7(diary.at(SET_UP, "19:10"), Random(PACK))
    _record(diary, "pack", subject, {"name": PACK, **days, **looked, **words, "gone": False})


def _record(diary: Diary, kind: str, subject: str, fields: dict[str, Any], ago: int = SET_UP) -> None:
    diary.note(OWNER, ago, "19:25", kind, subject, {"f": fields, "base": dict.fromkeys(fields, "")})


def _given(diary: Diary, ids: dict[str, str]) -> None:
    for doe, ago, product, told, why, milk, meat, carries in GIVEN:
        said = {"product": product, "told": told, "why": why, "who": "vet", "carries": carries}
        held = {"milk_until": diary.day(milk), "meat_until": diary.day(meat)}
        diary.note(OWNER, ago, "18:55", "treatment", ids[doe], {**said, **held})


def _looked_at(diary: Diary, ids: dict[str, str]) -> None:
    """Does without grain every morning; and the one that left hers, with her grain held where it is."""
    for doe, last in LOOKED_AT_DAILY:
        for ago in range(DAILY_D, last - 1, -1):
            data = {"how": "ate_all", "left_pct": 0, "feed": "", "fed": ""}
            diary.note(HELPER, ago, "06:40", "intake", ids[doe], data, slot="morning")
    asked = {**dict.fromkeys(("new_feed", "water_bad", "bullied"), "no"), "suspect": "", "result": ""}
    asked |= {"left": "", "passes": "", "strains": ""}
    left = seen_key("marigold", 1, "evening")

    def of_it(written: Written) -> dict[str, str]:
        return {"of": written[left]["id"]}

    diary.note(HELPER, 1, "18:35", "triage", ids["marigold"], lambda written: {**asked, **of_it(written)})
    held = {"until_on": diary.day(-3), "grain_out": False}
    diary.note(OWNER, 1, "18:45", "freeze", ids["marigold"], lambda written: {**held, **of_it(written)})


def _buck(diary: Diary, ids: dict[str, str], buck: str, yard: str) -> None:
    _record(diary, "pen", yard, {"name": YARD, "order": 4, "role": "other", "waste_pm": 120})
    born = diary.day(4 * 365)
    fields = {"name": BUCK, "sex": "buck", "size": "standard", "breed": "alpine", "born_on": born, "order": 99}
    _record(diary, "doe", buck, fields)
    diary.note(FAMILY, SET_UP, "19:35", "moved", buck, {"pen": yard})
    for slot, clock in (("morning", "06:24"), ("evening", "18:14")):
        steps = [{"on": diary.day(SET_UP - 1), "g": YARD_HAY_G}]
        ration = {"to": "pen", "slot": slot, "feed": ids[MEADOW], "steps": steps, "base": ""}
        diary.note(OWNER, SET_UP, "20:20", "ration", yard, ration, slot=slot)
        for ago in range(SET_UP - 1, -1, -1):
            lines = [{"to": "", "feed": ids[MEADOW], "g": YARD_HAY_G}]
            diary.note(OWNER, ago, clock, "fed", yard, {"lines": lines, "adds": False}, slot=slot)
