"""A simulated doe as she is, and the farm's own level of what differs from farm to farm."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from . import figures as f


@dataclass(slots=True)
class Land:
    """What holds for all does of one farm."""

    alive_kj: float
    growing_kj: float
    efficiency: float
    kl: float
    eats_g: float
    milk_eats_kg: float
    growing_eats: float
    fresh_eats: float
    unit_share: float
    gain_mj: float
    loss_mj: float
    rank_sd: float


@dataclass(slots=True)
class Goat:
    """`kg` is her own, without the womb; days are the farm's, 0 the first looked at. No day is None."""

    name: str
    size: str
    first: bool
    kg: float
    mature_kg: float
    alive_kj: float
    gain_g: float
    gain_kj_g: float
    litter: int
    kid_kg: float
    carried_d: int
    hunger: float
    fall: float
    fall_d: int
    rank: float
    peak_kg: float
    decline: float
    fat_pct: float
    protein_pct: float
    condition: float
    bred: int | None = None
    kidded_before: int | None = None
    dried: int | None = None
    eaten_kj: list[float] = field(default_factory=list)
    eaten_kg: list[float] = field(default_factory=list)
    need_kj: list[float] = field(default_factory=list)
    room_kg: list[float] = field(default_factory=list)
    scores: list[float] = field(default_factory=list)

    def kids_on(self) -> int | None:
        return None if self.bred is None else self.bred + self.carried_d

    def gest(self, day: int) -> int:
        """Days carried, -1 when she carries nothing."""
        kids = self.kids_on()
        return day - self.bred if self.bred is not None and kids is not None and self.bred <= day < kids else -1

    def dim(self, day: int) -> int:
        """Days in milk, -1 when dry."""
        kids = self.kids_on()
        if kids is not None and day >= kids:
            return day - kids
        dry = self.kidded_before is None or (self.dried is not None and day >= self.dried)
        return -1 if dry or self.kidded_before is None or day < self.kidded_before else day - self.kidded_before


def land(rng: Random) -> Land:
    return Land(
        alive_kj=min(f.ALIVE_HIGH_KJ, max(f.ALIVE_LOW_KJ, rng.gauss(f.ALIVE_KJ, f.ALIVE_SD_KJ))),
        growing_kj=rng.uniform(*f.GROWING_KJ),
        efficiency=rng.uniform(*f.WOMB_EFFICIENCY),
        kl=rng.uniform(*f.KL),
        eats_g=min(f.DRY_EATS_HIGH_G, max(f.DRY_EATS_LOW_G, rng.gauss(f.DRY_EATS_G, f.DRY_EATS_SD_G))),
        milk_eats_kg=rng.uniform(*f.MILK_EATS_KG),
        growing_eats=rng.uniform(*f.GROWING_EATS),
        fresh_eats=rng.uniform(*f.FRESH_EATS),
        unit_share=rng.uniform(*f.UNIT_SHARE),
        gain_mj=rng.uniform(*f.GAIN_MJ),
        loss_mj=rng.uniform(*f.LOSS_MJ),
        rank_sd=rng.uniform(*f.RANK_SD),
    )


def goat(rng: Random, ground: Land, name: str, size: str, first: bool, mature_kg: float, condition: float) -> Goat:
    litter = rng.choices((1, 2, 3, 4), (40, 45, 12, 3) if first else (22, 46, 24, 8))[0]
    each = (f.KID_KG - f.KID_LESS_KG * (litter - 1)) * (mature_kg / f.KID_OF_DOE_KG) ** 0.75
    carried = f.CARRIED_D[size] - f.CARRIED_LESS_D * (litter - 1)
    mini = size == "mini"
    return Goat(
        name=name,
        size=size,
        first=first,
        kg=mature_kg * (rng.uniform(0.70, 0.85) if first else 1.0),
        mature_kg=mature_kg,
        alive_kj=(ground.growing_kj if first else ground.alive_kj) * rng.gauss(1, f.DOE_ALIVE_SD),
        gain_g=rng.uniform(0.7, 1.3) * mature_kg if first else 0.0,
        gain_kj_g=rng.choice(f.GAIN_KJ_G),
        litter=litter,
        kid_kg=max(0.6, each * (f.DWARF_KID if mini else 1.0) * rng.gauss(1, f.KID_SD)),
        carried_d=round(rng.gauss(carried, f.CARRIED_SD_D)),
        hunger=rng.gauss(1, f.DOE_EATS_SD),
        fall=rng.uniform(*f.FALL) * f.FALL_BY_LITTER[litter],
        fall_d=rng.randint(*f.FALL_D),
        rank=rng.lognormvariate(0, ground.rank_sd),
        # judgement: 5 to 6 % of her weight a day at the peak, of the richer milk of minis less
        peak_kg=(0.042 if mini else 0.056) * mature_kg * min(1.5, max(0.5, rng.gauss(1, 0.2))) * (0.8 if first else 1),
        decline=rng.uniform(*f.DECLINE),
        fat_pct=(5.8 if mini else 3.7) * rng.gauss(1, 0.1),
        protein_pct=4.0 if mini else 3.1,
        condition=condition,
    )
