"""Safety words, each with a doe (or buck) who must hear it and one who must not.

The names of the cases say what was seen. Elsewhere, in the same way:

    feeding to need, over and short                test_over_has_a_witness, test_fill_the_feeder
    what is to come; too thin at kidding           test_ahead_and_thinning
    a grain jump eaten or saved, hay turned        test_grain_and_gates
    thin before calcium, slimming, fibre, limits   test_words_that_fit
    one feeder and several does                    test_words_of_a_pen
    a bag nobody described, milk, fat and fresh    test_heard_at_the_feeder
    second left meal, grain left, down, early      test_off_feed_does
    the afterbirth, every kid's looks              tests/outlook/test_afterbirth, test_kidding_safety
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from herd.outlook.tables import OFF_FEED, PROMPTS
from tests.support.known_does import BRED_ON, STANDARD, carrying, fresh
from tests.support.one_doe import OneDoe

Seen = Callable[[OneDoe], None]


def buck() -> OneDoe:
    return OneDoe(BRED_ON, 80_000, 5, 0, **{**STANDARD, "sex": "buck"})


def left(day: int, slot: str, how: str = "left_some", pct: int = 30) -> Seen:
    return lambda doe: void(doe.log.intake("doe", doe.on(day), slot, how, pct))


def void(_: object) -> None:
    """Whatever an entry gives back."""


def checked(day: int, slot: str = "midday", **found: Any) -> Seen:
    blank = {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", "cud": "", "dung": "", "legs": "", "eyes": 0, "udder": ""}
    return lambda doe: void(doe.log.add("checkup", "doe", {**blank, "belly": "", **found}, doe.on(day), slot, v=2))


def dam(day: int, slot: str = "midday", **found: str) -> Seen:
    blank = {"drank": "", "ate": "", "halves": "", "discharge": "", "bright": ""}
    return lambda doe: void(doe.log.add("dam_look", "doe", {**blank, **found}, doe.on(day), slot))


def signs(day: int, slot: str, *seen: str) -> Seen:
    return lambda doe: void(doe.log.add("signs", "doe", {"seen": list(seen), "absent": []}, doe.on(day), slot))


def not_seen(day: int, slot: str, *absent: str) -> Seen:
    return lambda doe: void(doe.log.add("signs", "doe", {"seen": [], "absent": list(absent)}, doe.on(day), slot))


def looked(day: int, slot: str, **found: str) -> Seen:
    def write(doe: OneDoe) -> None:
        mark = next((event["id"] for event in reversed(doe.log.events) if event["kind"] == "intake"), "")
        blank = dict.fromkeys(
            ("new_feed", "water_bad", "bullied", "suspect", "result", "left", "passes", "strains"), ""
        )
        doe.log.add("triage", "doe", {**blank, "of": mark, **found}, doe.on(day), slot, v=2)

    return write


def all_of(*each: Seen) -> Seen:
    return lambda doe: void([see(doe) for see in each])


def ate(day: int, slot: str) -> Seen:
    return left(day, slot, "ate_all", 0)


WORD = "off_feed_vet"
# what was seen; the doe and the day; what is put down; what she hears of it, and whether
CASES: dict[str, tuple[Callable[[], OneDoe], int, Seen, str, bool]] = {
    # off feed near kidding
    "seven tenths left at day 130": (lambda: carrying(130), 130, left(130, "morning", pct=70), WORD, True),
    "seven tenths left at day 60": (lambda: carrying(60), 60, left(60, "morning", pct=70), WORD, False),
    "three tenths left at day 130": (lambda: carrying(130), 130, left(130, "morning"), WORD, False),
    "a whole meal refused at day 130": (lambda: carrying(130), 130, left(130, "morning", "refused"), WORD, True),
    "a whole meal refused at day 60": (lambda: carrying(60), 60, left(60, "morning", "refused"), WORD, False),
    "a whole meal refused twelve days fresh": (lambda: fresh(12), 162, left(162, "morning", "refused"), WORD, True),
    "no cud at rest, day 130": (
        lambda: carrying(130),
        130,
        all_of(left(130, "morning"), checked(130, cud="none")),
        WORD,
        True,
    ),
    "chewing, day 130": (
        lambda: carrying(130),
        130,
        all_of(left(130, "morning"), checked(130, cud="chewing")),
        WORD,
        False,
    ),
    "refused the evening before, fed as planned since": (
        lambda: carrying(131),
        131,
        left(130, "evening", "refused"),
        WORD,
        True,
    ),
    "refused two days ago and nobody has looked": (
        lambda: carrying(132),
        132,
        left(130, "morning", "refused"),
        WORD,
        True,
    ),
    "refused the evening before and ate all in the morning": (
        lambda: carrying(131),
        131,
        all_of(left(130, "evening", "refused"), ate(131, "morning")),
        WORD,
        False,
    ),
    "refused the day before she kidded, two days fresh": (
        lambda: fresh(2),
        152,
        left(149, "morning", "refused"),
        WORD,
        False,
    ),
    # labour
    "straining at term": (lambda: carrying(149), 149, signs(149, "evening", "straining"), "labour_now", True),
    "ligaments gone at term": (
        lambda: carrying(149),
        149,
        signs(149, "evening", "ligaments_gone"),
        "labour_now",
        False,
    ),
    "water bag at term beside a left meal": (
        lambda: carrying(149),
        149,
        all_of(left(149, "morning"), signs(149, "evening", "water_bag")),
        "labour_now",
        True,
    ),
    "pushing that was and is not": (
        lambda: carrying(149),
        149,
        all_of(signs(149, "midday", "straining"), not_seen(149, "evening", "straining")),
        "labour_vet",
        True,
    ),
    "no pushing looked for at day 140": (
        lambda: carrying(140),
        140,
        not_seen(140, "evening", "straining"),
        "labour_vet",
        False,
    ),
    "straining three weeks early": (lambda: carrying(128), 128, signs(128, "evening", "straining"), "labour_vet", True),
    "ligaments gone three weeks early": (
        lambda: carrying(128),
        128,
        signs(128, "evening", "ligaments_gone"),
        "kidding_early",
        True,
    ),
    "ligaments gone three days early": (
        lambda: carrying(147),
        147,
        signs(147, "evening", "ligaments_gone"),
        "kidding_early",
        False,
    ),
    "a buck that strains is no kidding": (buck, 60, signs(60, "evening", "straining"), WORD, True),
    "a bulge behind at day 140": (lambda: carrying(140), 140, signs(140, "evening", "prolapse"), "prolapse_vet", True),
    "pawing at day 148": (lambda: carrying(148), 148, signs(148, "evening", "pawing"), "prolapse_vet", False),
    # a buck
    "a buck who left some": (buck, 60, left(60, "morning"), "off_feed_now", True),
    "a doe who left some at day 60": (lambda: carrying(60), 60, left(60, "morning"), "off_feed_now", False),
    "a buck who dribbles": (
        buck,
        60,
        all_of(left(60, "morning"), looked(60, "midday", passes="drips")),
        WORD,
        True,
    ),
    "a buck who passed a stream": (
        buck,
        60,
        all_of(left(60, "morning"), looked(60, "midday", passes="stream")),
        "off_feed_watch",
        True,
    ),
    "a buck who eats, and nobody saw a stream": (
        buck,
        60,
        all_of(left(60, "morning"), ate(60, "evening")),
        "off_feed_now",
        True,
    ),
    "a buck nobody looked at for two days": (buck, 62, left(60, "morning"), "off_feed_now", True),
    "a buck who eats, and a stream was seen": (
        buck,
        60,
        all_of(left(60, "morning"), looked(60, "midday", passes="stream"), ate(60, "evening")),
        "",
        True,
    ),
    # the dam in her first days
    "foul behind two days fresh": (lambda: fresh(2), 152, dam(152, discharge="foul"), "dam_vet", True),
    "reddish behind two days fresh": (lambda: fresh(2), 152, dam(152, discharge="normal"), "dam_vet", False),
    "a hot half two days fresh": (lambda: fresh(2), 152, dam(152, halves="hot"), "dam_vet", True),
    "dull two days fresh": (lambda: fresh(2), 152, dam(152, bright="no"), "dam_vet", True),
    "bright two days fresh": (lambda: fresh(2), 152, dam(152, bright="yes"), "dam_vet", False),
    "milk in one half two days fresh": (lambda: fresh(2), 152, dam(152, halves="one"), "dam_udder", True),
    "milk in both halves two days fresh": (lambda: fresh(2), 152, dam(152, halves="both"), "dam_udder", False),
    "a hot half ten days fresh, seen by nobody since": (
        lambda: fresh(10),
        160,
        dam(152, halves="hot"),
        "dam_vet",
        True,
    ),
    # udder, fever, ketones
    "a cold half ten days fresh": (lambda: fresh(10), 160, checked(160, udder="cold"), "udder_vet", True),
    "a cold half at day 100, drying": (lambda: carrying(100), 100, checked(100, udder="cold"), "udder_vet", True),
    "a hot half ten days fresh": (lambda: fresh(10), 160, checked(160, udder="hot"), "udder_watch", True),
    "soft and warm ten days fresh": (lambda: fresh(10), 160, checked(160, udder="fine"), "udder_watch", False),
    "40.1 twelve days fresh": (lambda: fresh(12), 162, checked(162, temp_c_x10=401), "temperature_vet", True),
    "39.2 twelve days fresh": (lambda: fresh(12), 162, checked(162, temp_c_x10=392), "temperature_vet", False),
    "ketones 3.2 at day 138": (lambda: carrying(138), 138, checked(138, bhb_x10=32), "ketones_vet", True),
    "ketones 0.4 at day 138": (lambda: carrying(138), 138, checked(138, bhb_x10=4), "ketones_vet", False),
    "a tight left side": (lambda: carrying(60), 60, checked(60, belly="tight"), "belly_vet", True),
    "a soft left side": (lambda: carrying(60), 60, checked(60, belly="fine"), "belly_vet", False),
}


@pytest.mark.parametrize("case", CASES)
def test_whoever_must_hear_it_hears_it_and_no_other(case: str) -> None:
    make, day, see, word, hears = CASES[case]
    doe = make()
    see(doe)
    said = doe.result(day)["prompt"] or {"code": "", "args": {}}
    assert (said["code"] == word) is hears
    if hears and word:
        assert said["args"].get("rests") or PROMPTS["prompts"][word].get("rests"), "nothing says what it goes by"


# What the safety rules are said by, and how each shows what it goes by: by a row of its own, or by what its case says.
BY_WORD = (
    "grain_overload_vet grain_jump_back overload_signs score_her energy_short condition_fat forage_low "
    "condition_thin_late calcium_short ca_p_low calcium_over udder_watch thin_though_fed overdue belly_vet ketones_vet"
)
BY_CASE = (
    "off_feed_vet off_feed_now off_feed_watch feed_stop labour_now labour_vet kidding_early kid_cold kids_wait "
    "kids_look kid_no_colostrum placenta_wait placenta_look placenta_vet dam_wait dam_look dam_udder dam_vet "
    "udder_vet temperature_vet prolapse_vet"
)


@pytest.mark.parametrize("word", [*BY_WORD.split(), *BY_CASE.split()])
def test_a_safety_word_has_what_it_goes_by_behind_one_tap(word: str) -> None:
    rows = PROMPTS["prompts"][word].get("rests", [])
    assert bool(rows) is (word in BY_WORD.split())
    assert {*rows} <= {*OFF_FEED["rests"]}
