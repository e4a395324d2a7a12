"""What a simulated doe truly needs, would eat, and gains or loses: kJ, kg dry matter, units of condition."""

from __future__ import annotations

from math import exp

from . import figures as f
from .goat import Goat, Land


def mbw(goat: Goat) -> float:
    return float(goat.kg**0.75)


def fetus_share(day: float) -> float:
    """Of its weight at birth."""
    return exp(-f.FETUS_DEPTH * (exp(-f.FETUS_RATE * day) - exp(-f.FETUS_RATE * f.FETUS_TERM_D)))


def womb_mj(day: float) -> float:
    """In the womb, per kg of birth weight."""
    return fetus_share(day) * (f.WOMB_MJ_KG + f.WOMB_MJ_KG_RISE * day / f.FETUS_TERM_D) * f.WOMB_MORE


def womb_kg(goat: Goat, gest: int) -> float:
    if gest <= 0:
        return 0.0
    at = gest * f.FETUS_TERM_D / goat.carried_d
    return goat.litter * goat.kid_kg * fetus_share(at) / f.WOMB_FETUS_SHARE


def litter_kj(goat: Goat, land: Land, gest: int) -> float:
    if gest <= 0:
        return 0.0
    at = min(gest, goat.carried_d) * f.FETUS_TERM_D / goat.carried_d
    laid = womb_mj(at + 0.5) - womb_mj(at - 0.5)
    return 1000 * goat.litter * goat.kid_kg * laid / land.efficiency


def milk_kg(goat: Goat, day: int) -> float:
    """Up to a peak, then down; less from a thin doe; a third less in the last week before she is dried off."""
    dim = goat.dim(day)
    if dim < 0:
        return 0.0
    rise = min(1.0, 0.65 + 0.35 * dim / f.PEAK_DIM)
    later = exp(-goat.decline * max(0, dim - f.PEAK_DIM) / 30)
    ending = 0.67 if goat.dried is not None and 0 < goat.dried - day <= 7 else 1.0
    return float(goat.peak_kg * rise * later * (1 - 0.35 * max(0.0, 2.4 - goat.condition)) * ending)


def milk_mj_kg(goat: Goat) -> float:
    return f.MILK_FAT * goat.fat_pct + f.MILK_PROTEIN * goat.protein_pct + f.MILK_REST


def gain_g(goat: Goat) -> float:
    """The drawn rate holds at 70 % of her grown weight and dies away as she nears it."""
    return goat.gain_g * max(0.0, 1 - goat.kg / goat.mature_kg) / 0.3


def need_kj(goat: Goat, land: Land, day: int) -> float:
    """To hold what flesh she has: alive, litter, growth, milk."""
    milk = 1000 * milk_kg(goat, day) * milk_mj_kg(goat) / land.kl
    alive = goat.alive_kj * mbw(goat) + gain_g(goat) * goat.gain_kj_g
    return alive + litter_kj(goat, land, goat.gest(day)) + milk


def room_kg(goat: Goat, land: Land, day: int, ndf: float) -> float:
    """What her gut would hold of forage so coarse."""
    gest, dim = goat.gest(day), goat.dim(day)
    milk = milk_kg(goat, day) * milk_mj_kg(goat) / f.MILK_UNIT_MJ
    eats = (land.eats_g + (f.CARRYING_EATS_G if gest > 30 else 0.0)) / 1000 * mbw(goat) + land.milk_eats_kg * milk
    if goat.first:
        eats *= land.growing_eats
    left = goat.carried_d - gest
    if gest > 0 and left < goat.fall_d:
        eats *= 1 - goat.fall * (1 - max(0, left) / goat.fall_d)
    if gest <= 0 <= dim < f.FRESH_DIM:
        rise = min(1.0, dim / f.KIDDED_DIM)
        eats *= f.KIDDED_EATS + (land.fresh_eats - f.KIDDED_EATS) * rise
    fill = min(f.FILL_MOST, max(f.FILL_LEAST, (f.FILL_NDF / ndf) ** f.FILL_POWER))
    return float(eats * goat.hunger * fill * (1 + f.THIN_EATS * (3.0 - goat.condition)))


def appetite_kg(goat: Goat, land: Land, day: int, ndf: float, kj: float) -> float:
    """What she eats of a ration of that energy with some of it always before her."""
    room, held = room_kg(goat, land, day, ndf), need_kj(goat, land, day) / kj
    if room <= held or goat.dim(day) >= 0:
        return room
    return held + f.PAST_NEED * (room - held)


def live(goat: Goat, land: Land, balance_kj: float) -> None:
    """A day's balance into condition and weight."""
    per_kg = land.gain_mj if balance_kj >= 0 else land.loss_mj
    kg = balance_kj / 1000 / per_kg
    moved = goat.condition + kg / (goat.kg * land.unit_share)
    goat.condition = min(f.CONDITION_HIGH, max(f.CONDITION_LOW, moved))
    goat.kg += kg + gain_g(goat) / 1000
