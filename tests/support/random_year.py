"""Entries of kids, nights and the year's tasks for random farms; one in twenty is what nobody can read."""

from __future__ import annotations

import random

from tests.support.random_barn import Data, Date, mostly

KINDS = (
    "kid",
    "kit",
    "own_task",
    "kid_weight",
    "task",
    "hand_over",
    "dam_look",
    "heat",
    "dry_plan",
    "udder",
    "kid_look",
    "kit_used",
)
YES_NO = ("", "yes", "no")


def entries(dice: random.Random, does: list[str], date: Date) -> list[tuple[str, str, Data, int]]:
    found = []
    for kind in dice.sample(KINDS, dice.choice((0, 0, 1, 4))):
        subject = dice.choice(("kid1", "kid2", "kit1", "farm") if kind not in OF_DOE else (*does, "nobody"))
        data = every(dice, date)[kind]
        if kind in ("kid", "kit", "own_task"):
            data = {"f": data, "base": {}}
        found.append((kind, subject, data, 3 if "of" in data else 2 if {"felt", "fed_g"} & data.keys() else 1))
    return found


OF_DOE = ("dam_look", "heat", "dry_plan", "udder", "kid_look")


def every(dice: random.Random, date: Date) -> dict[str, Data]:
    warm = {"mouth": "warm", "rectal_c_x10": 0, "swallows": "yes", "up": "", "belly": "", "dead": False}
    return {
        "kid": {
            "dam": "doe0",
            "n": dice.randint(1, 3),
            "sex": dice.choice(("", "doe", "buck")),
            "tag": mostly(dice, ("7", ""), (7,)),
            "same": dice.choice(("", "kid1", "kid2")),
        },
        "kit": {"name": "Towels", "count": dice.randint(0, 9)},
        "own_task": {"title": "Clip her", "from_d": dice.randint(-9, 9)},
        "kid_weight": {"g": mostly(dice, (2900, 4100), (None, "4 kg")), "how": "scale"},
        "task": {
            "task": "booster",
            "key": mostly(dice, ("2026-11-20", ""), (3,)),
            "why": "",
            **dice.choice(({"what": "done", "to_on": ""}, {"what": "moved", "to_on": date(0, 9)})),
        },
        "hand_over": {"to": dice.choice(("", "ada")), "word": mostly(dice, ("All quiet", ""), (None,))},
        "dam_look": {
            **{name: dice.choice(YES_NO) for name in ("drank", "bright")},
            "ate": mostly(dice, ("some", ""), (0,)),
            "halves": dice.choice(("both", "cold")),
            "discharge": "",
        },
        "heat": {"what": mostly(dice, ("standing", "marked"), (None,))},
        "dry_plan": {"last_on": mostly(dice, ("", date(0, 9)), ("soon",)), "way": dice.choice(("", "gradual"))},
        "udder": {"fill": dice.randint(0, 4), "uneven": False, "felt": dice.choice(("soft", "hot", ""))},
        "kid_look": {
            "kid": dice.randint(1, 3),
            **warm,
            "fed": "bottle",
            "fed_g": dice.choice((0, 120)),
            **dice.choice(({}, {"of": "kid1"}, {"of": "kid2"})),
        },
        "kit_used": {"n": mostly(dice, (1, 2), (None, "one"))},
    }
