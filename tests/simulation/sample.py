"""The grid: plausible farms of six does each, drawn by seed. Nothing is drawn from what the product would say."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from .truth.feeds import Feed, bought
from .truth.goat import Goat, Land, goat, land

DOES = 6
GOOD, SHORT, RICH, FOUND = "good", "short", "rich", "found"
FREE, FLAKE = "free choice", "by the flake"
# shares of does in each state: judgement, so that each is met often
STATES = {"open": 7, "early": 20, "late": 22, "milk_carrying": 11, "milk": 16, "fresh": 7, "first": 17}
REGIMES = {GOOD: 45, SHORT: 26, RICH: 12, FOUND: 17}
PLAIN = ("grass_poor", "grass_fair", "grass_fair", "grass_rich", "mixed")
LEGUME = ("legume_poor", "legume_rich", "legume_rich", "mixed")
POOR_KJ = 8000.0
GRAINS = ("barley", "oats", "maize")


@dataclass(slots=True)
class Pen:
    """Does that share a feeder, and how it is filled. `start` is the day the regime's change comes."""

    id: str
    does: list[str]
    regime: str
    style: str
    hay: str
    legume_share: float
    factor: float
    start: int
    grain_g_kg: float
    plenty: float


@dataclass(slots=True)
class Habits:
    """How the people of a farm work: judgement; hand and scorer by the repeatability of scores, 0.1 to 0.4."""

    waste: float
    waste_told: bool
    flake: float
    scoop: float
    miss: float
    weighs: str
    scans: bool
    scan_right: float
    score_every_d: int
    answers: bool
    scorer: float
    hand: float
    milk_every_d: int
    plans: bool
    eye: float
    looks_in_feeder: float


@dataclass(slots=True)
class Farm:
    seed: str
    land: Land
    habits: Habits
    feeds: dict[str, Feed]
    does: list[Goat]
    pens: list[Pen]


def farm(seed: int, number: int) -> Farm:
    rng = Random(f"grid|{seed}|{number}")
    ground, how = land(rng), habits(rng)
    feeds = barn(rng)
    does = [doe(rng, ground, f"doe{n}") for n in range(DOES)]
    return Farm(f"{seed}|{number}", ground, how, feeds, does, pens(rng, does, feeds["hay"]))


def barn(rng: Random) -> dict[str, Feed]:
    """Hay of the farm's own, a legume, and a grain; what is fed of them is up to the pens."""
    tested = rng.random() < 0.3
    plain = bought(rng, "lot1", rng.choice(PLAIN), tested)
    legume = bought(rng, "lot2", rng.choice(LEGUME), tested and rng.random() < 0.5)
    return {"hay": plain, "legume": legume, "grain": bought(rng, "", rng.choice(GRAINS), False)}


def habits(rng: Random) -> Habits:
    return Habits(
        waste=rng.uniform(0.03, 0.20) if rng.random() < 0.65 else rng.uniform(0.15, 0.40),
        waste_told=rng.random() < 0.3,
        flake=rng.gauss(1, 0.07),
        scoop=rng.gauss(1, 0.05),
        miss=rng.uniform(0.0, 0.12),
        weighs=rng.choices(("scale", "tape", "told", "class"), (30, 40, 20, 10))[0],
        scans=rng.random() < 0.5,
        scan_right=0.88,
        score_every_d=rng.choice((0, 0, 0, 14, 21, 28, 28, 42)),
        answers=rng.random() < 0.6,
        scorer=rng.gauss(0, 0.35 if rng.random() < 0.2 else 0.15),
        hand=rng.uniform(0.12, 0.28),
        milk_every_d=rng.choice((7, 7, 14, 0, 0)),
        plans=rng.random() < 0.75,
        eye=rng.gauss(1, 0.05),
        looks_in_feeder=rng.choice((0.0, 0.3, 0.8)),
    )


def doe(rng: Random, ground: Land, name: str) -> Goat:
    state = rng.choices(tuple(STATES), tuple(STATES.values()))[0]
    mini = rng.random() < 0.45
    # a first freshener is to weigh 20 kg herself
    mature = rng.uniform(28 if state == "first" else 20, 46) if mini else rng.uniform(42, 90)
    condition = min(4.5, max(2.0, rng.gauss(3.0, 0.4) if rng.random() < 0.7 else rng.uniform(2.0, 4.5)))
    made = goat(rng, ground, name, "mini" if mini else "standard", state == "first", mature, condition)
    return place(rng, made, state)


def place(rng: Random, made: Goat, state: str) -> Goat:
    """Put her where she stands on day 0."""
    if state in ("milk", "fresh"):
        dim = rng.randint(0, 21) if state == "fresh" else rng.randint(22, 150)
        made.bred = -dim - made.carried_d
    elif state == "early":
        made.bred = -rng.randint(0, 99)
    elif state == "late":
        made.bred = -rng.randint(100, min(150, made.carried_d - 1))
    elif state == "first":
        made.bred = -rng.randint(0, min(150, made.carried_d - 1))
    elif state == "milk_carrying":
        made.bred = -rng.randint(5, 88)
        made.kidded_before = made.bred - rng.randint(60, 200)
        made.dried = made.bred + (rng.randint(83, 88) if made.size == "mini" else rng.randint(86, 93))
    return made


def pens(rng: Random, does: list[Goat], hay: Feed) -> list[Pen]:
    """Half the farms keep some does together; the others stand alone, each with a feeder of her own."""
    together = [d.name for d in does[: rng.choice((0, 0, 2, 3, 4))]]
    alone = [d.name for d in does if d.name not in together]
    made = [pen(rng, f"pen-{name}", [name], does, hay) for name in alone]
    return made + ([pen(rng, "pen-all", together, does, hay)] if together else [])


def pen(rng: Random, name: str, members: list[str], does: list[Goat], hay: Feed) -> Pen:
    regime = rng.choices(tuple(REGIMES), tuple(REGIMES.values()))[0]
    mine = [d for d in does if d.name in members]
    milking, growing = any(d.dim(0) >= 0 for d in mine), all(d.first for d in mine)
    share = rng.uniform(0.3, 0.6) if milking else rng.uniform(0.2, 0.5) if growing else rng.choice((0, 0, 0.2))
    if regime == GOOD and hay.kj < POOR_KJ and (milking or growing):
        # nobody who feeds well keeps milkers or doelings on that alone
        share = max(share, 0.6)
    if regime == RICH:
        share = rng.uniform(0.6, 1.0)
    if regime == FOUND:
        share = rng.choice((0.0, rng.random(), 1.0))
    return Pen(
        id=name,
        does=members,
        regime=regime,
        style=FREE if regime == RICH or (regime == GOOD and rng.random() < 0.5) else FLAKE,
        hay="hay",
        legume_share=share,
        factor={SHORT: rng.uniform(0.48, 0.85), FOUND: rng.uniform(0.55, 1.5)}.get(regime, 1.0),
        start=rng.choice((-99, -99, rng.randint(1, 12))) if regime == SHORT else -99,
        grain_g_kg={RICH: rng.uniform(4, 11), FOUND: rng.choice((0.0, rng.uniform(2, 14)))}.get(regime, 0.0),
        plenty=rng.uniform(1.15, 1.7),
    )
