"""Six does from the day they are bred to three weeks fresh, each as a keeper feeds her: see tests/acceptance."""

from __future__ import annotations

from tests.support.known_does import BRED_ON, MEALS, MINIATURE, in_two_meals, miniature, standard, stepped
from tests.support.one_doe import OneDoe

FIRST, KIDS, LAST = -10, 150, 171
FORTNIGHTS = range(0, LAST, 14)


def milked(doe: OneDoe, first: int, last: int, g: int, fat_x100: int = 0) -> None:
    for day in range(first, last, 7):
        for slot in MEALS:
            doe.log.add("milk", "doe", {"g": g // 2, "fat_x100": fat_x100}, doe.on(day), slot)


def through(doe: OneDoe, x100: int = 300) -> OneDoe:
    """Scored every fortnight, every meal given as planned, kidded on day 150."""
    doe.scored(x100, *FORTNIGHTS)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(KIDS), "morning")
    doe.fed_as_planned(FIRST, LAST)
    return doe


def usual_miniature() -> OneDoe:
    """30 kg with twins: four fifths grass hay, grain in 60 g steps from day 122, and better hay when fresh."""
    doe = miniature()
    in_two_meals(doe, "pen", FIRST, grass_hay_general=960)
    stepped(doe, "pen", alfalfa_hay_mid=[(FIRST, 240), (122, 400), (KIDS, 700)])
    ramp = [(122, 60), (127, 120), (132, 180), (KIDS + 3, 240), (KIDS + 6, 300), (KIDS + 9, 360)]
    stepped(doe, "doe", barley_grain=ramp)
    return through(doe)


def triplets() -> OneDoe:
    """60 kg with three, good hay and grain in steps, and no score after day 86 until the one that fell."""
    doe = standard(kids=3)
    stepped(doe, "pen", alfalfa_grass_hay_50=[(FIRST, 1500), (60, 1700), (90, 2300), (KIDS, 2600)])
    stepped(doe, "doe", barley_grain=[(115, 100), (118, 200), (121, 300), (124, 400), (KIDS + 3, 500), (KIDS + 6, 600)])
    doe.scored(300, 0, 30, 58, 86)
    doe.scored(250, 128)
    doe.log.add("kidded", "doe", {"born": 3, "alive": 3}, doe.on(KIDS), "morning")
    doe.fed_as_planned(FIRST, LAST)
    return doe


def young_miniature() -> OneDoe:
    """A first freshener, 21.5 kg of 32 when she is bred, on good mixed hay she holds 3 on, more of it as she grows."""
    doe = OneDoe(BRED_ON, 21_500, 5, 1, mature_kg=32, **{**MINIATURE, "born_on": "2025-06-01", "kiddings_before": 0})
    doe.log.add("weight", "doe", {"g": 24_000, "how": "tape", "girth_mm": 0, "length_mm": 0}, doe.on(105))
    stepped(doe, "pen", alfalfa_grass_hay_50=[(FIRST, 1000), (80, 1100), (110, 1200), (KIDS, 1500)])
    stepped(doe, "doe", barley_grain=[(128, 60), (133, 120), (KIDS + 3, 180), (KIDS + 6, 240)])
    return through(doe)


def rich_milker() -> OneDoe:
    """32 kg, 1 kg of rich milk when she is bred; dried off at day 88, her grain gone before."""
    doe = miniature(weight_g=32_000)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-120))
    stepped(
        doe, "pen", grass_hay_general=[(FIRST, 900), (90, 1000)], alfalfa_hay_mid=[(FIRST, 500), (90, 300), (KIDS, 700)]
    )
    stepped(
        doe,
        "doe",
        barley_grain=[
            (FIRST, 300),
            (76, 200),
            (80, 100),
            (84, 0),
            (122, 60),
            (127, 120),
            (132, 180),
            (KIDS + 3, 240),
            (KIDS + 6, 300),
        ],
    )
    milked(doe, FIRST, 78, 1000, 666)
    milked(doe, 80, 87, 500, 666)
    doe.log.add("dried_off", "doe", {}, doe.on(88))
    return through(doe)


def over_rich() -> OneDoe:
    """60 kg, dry when she is bred, put on two kilograms of half alfalfa and never eased."""
    doe = standard()
    in_two_meals(doe, "pen", FIRST, alfalfa_grass_hay_50=2000)
    doe.scored(300, 0, 14)
    doe.scored(350, 42)
    doe.scored(375, 57, 71)
    doe.scored(400, 85, 99, 113, 127, 141)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(KIDS), "morning")
    doe.fed_as_planned(FIRST, LAST)
    return doe


def dried_milker(cut_on: int = 92) -> OneDoe:
    """64 kg, 2 kg of milk when she is bred; grain comes down first, her legume goes with the milk or before it."""
    doe = standard(weight_g=64_000)
    doe.log.add("kidded", "doe", {"born": 2, "alive": 2}, doe.on(-200))
    stepped(doe, "pen", alfalfa_hay_mid=[(FIRST, 1000), (cut_on, 0), (122, 500), (KIDS, 1300)])
    stepped(doe, "pen", orchardgrass_hay=[(FIRST, 1400), (cut_on, 2300), (100, 0)])
    stepped(doe, "pen", grass_hay_general=[(100, 2100), (122, 1800), (KIDS, 1300)])
    stepped(
        doe,
        "doe",
        barley_grain=[
            (FIRST, 500),
            (78, 300),
            (84, 150),
            (88, 0),
            (124, 100),
            (128, 200),
            (132, 300),
            (KIDS + 3, 400),
            (KIDS + 6, 500),
        ],
    )
    milked(doe, FIRST, 80, 2000)
    milked(doe, 82, 91, 900)
    doe.log.add("dried_off", "doe", {}, doe.on(92))
    return through(doe)


COURSES = {
    "usual_miniature": usual_miniature,
    "triplets": triplets,
    "young_miniature": young_miniature,
    "rich_milker": rich_milker,
    "over_rich": over_rich,
    "dried_milker": dried_milker,
}
