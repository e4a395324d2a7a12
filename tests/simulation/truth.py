"""What is true on one simulated farm and of each doe. None of these figures is the product's own default set.

Sources of the truth
maintenance   412 to 501 kJ/MBW, mean 456: GfE 2003 (450), Sahlu 2004 pooled (462), Ringdorfer 2018 (434), Tovar-Luna
              2009 (494, 472, 412); a doe's own CV 6 % is judgement. Growing: 412 (Almeida 2015) to 580 (Luo 2004)
litter        fetal weights of Robinson 1977 (ewes), energy per kg recalled; efficiency 0.11 to 0.14, Robinson 1980
milk          energy by AFRC 1998 (0.0376 fat + 0.0209 protein + 0.948), kl 0.58 to 0.63
appetite      Swiss rule 0.9 + BW/100 + 0.27 milk; miniatures 76 g/MBW (ICAR); late fall 15 to 38 %
condition     0.11 to 0.19 of weight a unit (ewe texts), 28.5 MJ/kg (Sahlu 2004) to 53 (AFRC) gained, 24 to 34 lost
hay           10 % SD about the feed table where no test was made, 4 % where one was
scorers       SD 0.3 in all: the scorer's own habit 0.2, the hand that day 0.22
"""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

SOURCES = (
    "maintenance",
    "litter",
    "milk",
    "appetite",
    "hay",
    "waste",
    "flake",
    "sharing",
    "weight",
    "count",
    "scorer",
    "misses",
)
SCORERS = ("ada", "ben", "cora")
# name: mature kg, kid kg, 305-day milk kg, fat %, protein %, gestation d
BREEDS = {
    "alpine": (61, 3.5, 900, 3.5, 2.9, 150.5),
    "saanen": (64, 3.3, 908, 3.4, 3.0, 150.5),
    "nubian": (61, 3.5, 735, 4.6, 3.5, 150.0),
    "toggenburg": (54, 3.9, 777, 3.3, 2.9, 150.5),
    "nigerian_dwarf": (34, 1.4, 314, 6.2, 4.3, 146.0),
    "mini_cross": (42, 2.2, 480, 5.0, 3.8, 148.0),
}
SMALL = ("nigerian_dwarf", "mini_cross")
LITTERS = {
    ("standard", True): (0.50, 0.45, 0.05, 0.0),
    ("standard", False): (0.22, 0.57, 0.18, 0.03),
    ("mini", True): (0.35, 0.50, 0.13, 0.02),
    ("mini", False): (0.12, 0.43, 0.33, 0.12),
}


@dataclass(slots=True)
class Land:
    """One farm: what its feed is, what its feeder wastes, and how its people work."""

    hay_book: str
    hay_factor: float
    hay_test: float
    grain_factor: float
    rich_factor: float
    waste: float
    waste_known: bool
    flake: float
    scoop: float
    miss: float
    weigh: str
    scans: bool
    scan_right: float
    score_every_d: int
    scorers: dict[str, float]
    hand: float
    milk_every_d: int
    plans_steps: bool
    hay_eye: float
    gain_mj: float
    loss_mj: float
    unit_share: float
    kl: float
    efficiency: float


@dataclass(slots=True)
class Goat:
    """One doe as she is; `condition` and `kg` (her own, without the womb) move day by day."""

    name: str
    breed: str
    size: str
    first: bool
    kg: float
    mature_kg: float
    maintenance_kj: float
    gain_g: float
    gain_kj_g: float
    litter: int
    kid_kg: float
    length_d: int
    hunger: float
    fall: float
    fall_d: int
    rank: float
    peak_kg: float
    decline: float
    fat_pct: float
    protein_pct: float
    condition: float
    start_gest: int
    own: float
    dim: int = -1
    dried: bool = False
    kidded_on: int = -1
    ill_until: int = -1
    ill_share: float = 1.0
    scanned: bool = False
    band_lo: float = 2.75
    grain_g: int = 0
    extra_g: int = 0
    raised_on: int = -9
    eaten: list[float] = field(default_factory=list)
    need: list[float] = field(default_factory=list)
    could: list[float] = field(default_factory=list)


def land(rng: Random, known: frozenset[str]) -> Land:
    """One farm's truth; a source named in `known` is set to what the product itself would assume or record."""
    tested = rng.random() < 0.3
    mine = {name: rng.gauss(0, 0.2) for name in SCORERS}
    made = Land(
        hay_book=rng.choice(("grass_hay_general", "orchardgrass_hay", "timothy_hay_mid", "alfalfa_grass_hay_50")),
        hay_factor=min(1.3, max(0.7, rng.gauss(1, 0.10))),
        hay_test=rng.gauss(1, 0.04) if tested else 0.0,
        grain_factor=rng.gauss(1, 0.03),
        rich_factor=rng.gauss(1, 0.10),
        waste=min(0.40, max(0.03, rng.gauss(0.15, 0.07))),
        waste_known=rng.random() < 0.3,
        flake=rng.gauss(1, 0.07),
        scoop=rng.gauss(1, 0.05),
        miss=rng.uniform(0.02, 0.15),
        weigh=rng.choice(("scale", "tape", "tape", "class")),
        scans=rng.random() < 0.5,
        scan_right=0.85,
        score_every_d=rng.choice((14, 21, 28, 28, 42)),
        scorers=mine,
        hand=0.22,
        milk_every_d=rng.choice((7, 7, 14, 0)),
        plans_steps=rng.random() < 0.7,
        hay_eye=rng.gauss(1, 0.05),
        gain_mj=rng.uniform(28.5, 53),
        loss_mj=rng.uniform(24, 34),
        unit_share=rng.uniform(0.11, 0.19),
        kl=rng.uniform(0.58, 0.63),
        efficiency=rng.uniform(0.11, 0.14),
    )
    return _told(made, known)


def _told(made: Land, known: frozenset[str]) -> Land:
    if "hay" in known:
        made.hay_factor = made.grain_factor = made.rich_factor = 1.0
        made.hay_test = 0.0
    if "waste" in known:
        made.waste, made.waste_known = 0.15, False
    if "flake" in known:
        made.flake = made.scoop = 1.0
    if "misses" in known:
        made.miss = 0.0
    if "weight" in known:
        made.weigh = "scale"
    if "count" in known:
        made.scans, made.scan_right = True, 1.0
    if "scorer" in known:
        made.scorers, made.hand = dict.fromkeys(made.scorers, 0.0), 0.0
    if "litter" in known:
        made.efficiency = 0.133
    return made


def herd(rng: Random, size: int, known: frozenset[str]) -> list[Goat]:
    """The does of one farm: half of them or more grown, some first fresheners, some still in milk when bred."""
    kinds = rng.choice((tuple(BREEDS)[:4], SMALL, tuple(BREEDS)))
    level, growing = min(501.0, max(412.0, rng.gauss(456, 25))), rng.uniform(430, 540)
    unequal = rng.uniform(0.03, 0.13)
    if "maintenance" in known:
        level, growing = 501.0, 580.0
    return [goat(rng, f"doe{n}", rng.choice(kinds), level, growing, unequal, known) for n in range(size)]


def goat(
    rng: Random, name: str, breed: str, level: float, growing: float, unequal: float, known: frozenset[str]
) -> Goat:
    mature, kid, milk, fat, protein, length = BREEDS[breed]
    size, first = "mini" if breed in SMALL else "standard", rng.random() < 0.2
    mature_kg = mature * min(1.3, max(0.75, rng.gauss(1, 0.11)))
    litter = rng.choices((1, 2, 3, 4), LITTERS[size, first])[0]
    own = rng.gauss(0, 0.06) * ("maintenance" not in known)
    hunger, rank = rng.gauss(1, 0.08), rng.lognormvariate(0, unequal)
    each = kid * mature_kg / mature * (1 - 0.11 * (litter - 2)) * rng.gauss(1, 0.12)
    made = Goat(
        name=name,
        breed=breed,
        size=size,
        first=first,
        kg=mature_kg * (rng.uniform(0.62, 0.80) if first else 1.0),
        mature_kg=mature_kg,
        maintenance_kj=(growing if first else level) * (1 + own),
        gain_g=(rng.uniform(0.7, 1.3) * mature_kg if first else 0.0),
        gain_kj_g=rng.choice((28.5, 30.3)),
        litter=litter,
        kid_kg=each,
        length_d=round(rng.gauss(length, 3)),
        hunger=1.0 if "appetite" in known else hunger,
        fall=rng.uniform(0.15, 0.38),
        fall_d=rng.randint(18, 30),
        rank=1.0 if "sharing" in known else rank,
        peak_kg=milk * 0.0040 * min(1.6, max(0.5, rng.gauss(1, 0.22))),
        decline=rng.uniform(0.07, 0.12),
        fat_pct=fat * rng.gauss(1, 0.10),
        protein_pct=protein,
        condition=min(3.6, max(2.5, rng.gauss(3.0, 0.2))),
        start_gest=rng.randint(20, 112),
        own=own,
    )
    if not first and made.start_gest < 75 and rng.random() < 0.5:
        made.dim = made.start_gest + rng.randint(150, 200)
    return made
