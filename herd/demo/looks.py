"""What hands, tape, pail and eyes found: scores, weights, milk, udders and signs."""

from __future__ import annotations

from random import Random

from herd.science.body.growth import expected_gain
from herd.science.body.litter import gravid_uterus_freer2007, litter_share

from .cast import FAMILY, HELPER, OWNER, START, Doe
from .diary import Diary
from .does import DOES

WEIGH_EVERY_D, MILK_EVERY_D = 28, 8
BIRTH_TO_PEAK_D, FALL_A_DAY = 30, 0.003
# doe, day, fill, uneven
UDDERS = (
    ("marigold", 12, 1, False),
    ("marigold", 6, 2, False),
    ("marigold", 2, 2, False),
    ("teasel", 3, 0, False),
    ("mallow", 3, 3, False),
    ("hazel", 14, 3, False),
    ("hazel", 8, 4, True),
    ("hazel", 3, 4, False),
)
# doe, day, seen, looked for and absent
SIGNS: tuple[tuple[str, int, list[str], list[str]], ...] = (
    ("marigold", 4, ["udder_full"], ["ligaments_soft"]),
    ("marigold", 1, [], ["ligaments_gone", "mucus_amber"]),
    ("hazel", 14, ["ligaments_soft", "udder_full"], ["mucus_thin"]),
    ("hazel", 13, ["ligaments_gone", "teats_strutted", "mucus_thin"], []),
)
NOTES = (
    ("yarrow", 23, OWNER, "Thinner over the loin than last month."),
    ("hazel", 12, FAMILY, "Two doe kids, both up and drinking within the hour."),
    ("mallow", 9, OWNER, "Alfalfa taken off to dry her. Still a full pail tonight."),
    ("clover", 10, OWNER, "Fat over the ribs. Watch her on the long feeder."),
)


def looks(diary: Diary, ids: dict[str, str], rng: Random) -> None:
    for doe in DOES:
        for ago, x100 in doe.scores:
            diary.note(OWNER, ago, f"16:1{rng.randrange(10)}", "score", ids[doe.key], {"x100": x100})
        _weighings(diary, ids, doe, rng)
        _milkings(diary, ids, doe, rng)
    for key, ago, fill, uneven in UDDERS:
        diary.note(HELPER, ago, "18:41", "udder", ids[key], {"fill": fill, "uneven": uneven})
    for key, ago, seen, absent in SIGNS:
        diary.note(HELPER, ago, "18:43", "signs", ids[key], {"seen": seen, "absent": absent})
    for key, ago, who, text in NOTES:
        diary.note(who, ago, "19:30", "note", ids[key], {"text": text})


def _weighings(diary: Diary, ids: dict[str, str], doe: Doe, rng: Random) -> None:
    """By tape and on the scales by turns, once a month."""
    first = START - 2 - rng.randrange(6)
    for turn, ago in enumerate(range(first, -1, -WEIGH_EVERY_D) if doe.kg else ()):
        how, error, to = ("scale", 0.005, 100) if turn % 2 else ("tape", 0.02, 500)
        g = 1000 * seen_kg(doe, ago, how) * rng.uniform(1 - error, 1 + error)
        data = {"g": to * round(g / to), "how": how, "girth_mm": 0, "length_mm": 0}
        diary.note(FAMILY, ago, f"16:3{rng.randrange(10)}", "weight", ids[doe.key], data)


def seen_kg(doe: Doe, ago: int, how: str) -> float:
    """Her own weight on the day, and of what she carries all that scales see or half that a tape sees."""
    own = doe.kg - ago * 0.001 * float(expected_gain(doe.kg, doe.mature_kg)) if doe.mature_kg else doe.kg
    bred, kidded = (doe.bred or (0, 0))[1], doe.kidded or (START * 9, 0)
    day = bred - ago
    if day <= 0 or ago <= kidded[0] < bred:
        return own
    litter_kg = own * litter_share(doe.scanned[1] if doe.scanned else 2, doe.size, doe.breed)
    return own + float(gravid_uterus_freer2007(day, litter_kg)) * (1 if how == "scale" else 0.5)


def _milkings(diary: Diary, ids: dict[str, str], doe: Doe, rng: Random) -> None:
    """Weighed now and then, both milkings of a day; a little more the further back, little in the first days."""
    since = doe.kidded[0] if doe.kidded else 0
    last = (doe.dried or 0) + 1 + rng.randrange(3)
    for ago in range(last, min(since, START) if doe.milk_g else 0, MILK_EVERY_D):
        rising = min(1.0, 0.6 + 0.4 * (since - ago) / BIRTH_TO_PEAK_D)
        day_g = doe.milk_g * rising * (1 + FALL_A_DAY * ago if since > START else 1) * rng.uniform(0.96, 1.04)
        for slot, share, clock in (("morning", 0.53, "06:2"), ("evening", 0.47, "18:1")):
            data = {"g": 10 * round(day_g * share / 10), "fat_x100": 0}
            diary.note(HELPER, ago, f"{clock}{rng.randrange(10)}", "milk", ids[doe.key], data, slot=slot)
