"""What a simulated doe truly needs, could eat and gains or loses, in kJ, kg and units of condition."""

from __future__ import annotations

from math import exp

from herd.science.needs.pregnancy import pregnancy_energy_afrc1993

from .truth import Goat, Land

FETUS = (2.419, 17.574, 0.01976)
TERM_D = 147
# appetite per unit of condition below 3: fat does eat less (judgement)
THIN_EATS = 0.10


def mbw(goat: Goat) -> float:
    return float(goat.kg**0.75)


def _content(day: float) -> float:
    """Energy in the womb per kg of birth weight [MJ]: Robinson's fetal weights x a density rising to term."""
    share = exp(-FETUS[1] * exp(-FETUS[2] * day) + FETUS[1] * exp(-FETUS[2] * TERM_D))
    return share * (3.2 + 2.0 * day / TERM_D) * 1.2


def litter_kj(goat: Goat, land: Land, gest: int, known: frozenset[str]) -> float:
    if gest <= 0:
        return 0.0
    kg = goat.litter * goat.kid_kg
    if "litter" in known:
        return float(pregnancy_energy_afrc1993(float(min(gest, goat.length_d)), kg, goat.length_d))
    day = min(gest, goat.length_d) * TERM_D / goat.length_d
    return 1000 * kg * (_content(day + 0.5) - _content(day - 0.5)) / land.efficiency


def milk_kg(goat: Goat) -> float:
    """Rise to a peak at day 40, then a fall of 7 to 12 % a month; less from a first lactation and a thin doe."""
    if goat.dim < 0:
        return 0.0
    rise = min(1.0, 0.65 + 0.35 * goat.dim / 40)
    later = exp(-goat.decline * max(0, goat.dim - 40) / 30)
    thin = 1 - 0.35 * max(0.0, 2.4 - goat.condition)
    return float(goat.peak_kg * (0.8 if goat.first else 1.0) * rise * later * thin)


def milk_kj(goat: Goat, land: Land, milk: float, known: frozenset[str]) -> float:
    if "milk" in known:
        return 5195 * milk * (1.4694 + 0.4025 * goat.fat_pct) / 3.0794
    return 1000 * milk * (0.376 * goat.fat_pct + 0.209 * goat.protein_pct + 0.948) / land.kl


def gain_g(goat: Goat) -> float:
    """Growth slows as she nears her mature weight: the drawn rate holds at 70 % of it."""
    return goat.gain_g * max(0.0, 1 - goat.kg / goat.mature_kg) / 0.3


def need_kj(goat: Goat, land: Land, gest: int, milk: float, band_lo: float, known: frozenset[str]) -> float:
    """Maintenance, litter, growth, milk; and for a truly thin doe the way back to the foot of her band in 60 days."""
    alive = goat.maintenance_kj * mbw(goat) + gain_g(goat) * goat.gain_kj_g
    thin = max(0.0, band_lo - goat.condition) * goat.kg * land.unit_share * land.gain_mj * 1000 / 60
    return alive + litter_kj(goat, land, gest, known) + milk_kj(goat, land, milk, known) + thin


def appetite_kg(goat: Goat, gest: int, milk: float) -> float:
    """Dry matter she would eat of good hay before her; Swiss rule, miniatures by metabolic weight.

    Per kg of milk more than the Swiss 0.27, so that milkers reach the 4 to 5 % of weight seen (Tarr; Rashid 2008).
    """
    dry = 0.9 + goat.kg / 100 if goat.size == "standard" and not goat.first else 0.076 * mbw(goat)
    eats = dry + milk * (0.36 if goat.size == "standard" else 0.50)
    left = goat.length_d - gest
    if gest > 0 and left < goat.fall_d:
        eats *= 1 - goat.fall * (1 - max(0, left) / goat.fall_d)
    if 0 <= goat.dim < 60 and gest <= 0:
        eats *= 0.9 if goat.dim > 14 else 0.75 + 0.15 * goat.dim / 14
    return float(eats * goat.hunger * (1 + THIN_EATS * (3.0 - goat.condition)))


def live(goat: Goat, land: Land, balance_kj: float) -> None:
    """A day's balance into condition and weight."""
    per_kg = land.gain_mj if balance_kj >= 0 else land.loss_mj
    kg = balance_kj / 1000 / per_kg
    goat.condition = min(4.6, max(1.3, goat.condition + kg / (goat.kg * land.unit_share)))
    goat.kg += kg + gain_g(goat) / 1000
