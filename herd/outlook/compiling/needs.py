"""Needs, appetite, floor and band of one doe along a track. Everything is without the part that goes with milk."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from herd.science.base.arrays import Days, Num
from herd.science.base.record import term
from herd.science.body.condition import STAGES, band
from herd.science.body.growth import expected_gain, gain_energy
from herd.science.intake.appetite import (
    appetite_carrying,
    appetite_dry,
    appetite_growing,
    appetite_milk,
    appetite_milk_base,
    fresh_appetite_share,
    late_appetite_share,
)
from herd.science.needs import calcium, phosphorus, protein
from herd.science.needs.lactation import fat_corrected_milk, lactation_energy_nsahlai2004
from herd.science.needs.maintenance import (
    maintenance_gfe2003,
    maintenance_growing,
    maintenance_luo2004,
)
from herd.science.needs.pregnancy import pregnancy_energy_afrc1993, pregnancy_protein
from herd.science.parameters import values

from .doubt import need_sd
from .facts import Facts
from .floor import late_floor
from .track import Track

BAND_OF_PHASE = (
    "open",
    "carrying",
    "carrying",
    "milk_carrying",
    "milk_carrying",
    "carrying",
    "close_up",
    "close_up",
    "fresh",
    "milk",
    "open",
)
EXPOSED = 1


@dataclass(frozen=True)
class Needs:
    """Per day: kilojoules, milligrams, grams of dry matter, score x 100."""

    me_kj: Days
    cp_mg: Days
    ca_mg: Days
    p_mg: Days
    maint_kj: Days
    growth_kj: Days
    preg_me_kj: Days
    preg_cp_mg: Days
    preg_ca_mg: Days
    preg_p_mg: Days
    me_sd_kj: Days
    floor_me_kj: Days
    appetite_g: Days
    band_lo: Days
    band_hi: Days
    fcm_kg: Days

    @property
    def me_with_milk_kj(self) -> Days:
        return np.add(self.me_kj, lactation_energy_nsahlai2004(self.fcm_kg))

    @property
    def appetite_with_milk_g(self) -> Days:
        return np.add(self.appetite_g, 1000 * appetite_milk(self.fcm_kg))


def needs_along(facts: Facts, track: Track, rules: Mapping[str, int]) -> Needs:
    """Work a track through the equations. Raises OutOfRange where an input leaves what they cover.

    Each term is worked under its own name, and only where it applies to her: what is cited is what ran.
    """
    with term("weight"):
        kg = facts.mass.on(track.on - facts.today)
    day = held_day(facts, track)
    with term("me.maintenance"):
        alive_kj = maintenance_part(facts, kg, rules)
    with term("me.growth"):
        gain_g, growth_kj = growth_part(facts, kg)
    with term("appetite"):
        appetite_kg = _appetite(facts, track, kg, day)
    fcm_kg, eaten_kg = _milked(facts, track, appetite_kg)
    litter = litter_parts(facts, track, day, rules)
    with term("cp.body"):
        cp_g = protein.crude_protein(body_protein_part(facts, track, kg, gain_g, eaten_kg) + litter.mp_g)
    with term("ca.body"):
        ca_g = calcium_fed(_body_calcium(facts, kg, gain_g) + litter.ca_g, rules)
    with term("p.body"):
        p_g = phosphorus.phosphorus_diet(_body_phosphorus(facts, kg, gain_g) + litter.p_g)
    with term("me.doubt"):
        sd_kj = need_sd(facts, alive_kj, litter.kj, rules)
    with term("me.floor"):
        floor_kj = late_floor(facts, track, kg, alive_kj, litter.kj, appetite_kg, rules)
    with term("condition"):
        low, high = _bands(track)
    return Needs(
        me_kj=alive_kj + litter.kj + growth_kj,
        cp_mg=1000 * np.asarray(cp_g),
        ca_mg=1000 * np.asarray(ca_g),
        p_mg=1000 * np.asarray(p_g),
        maint_kj=alive_kj,
        growth_kj=growth_kj,
        preg_me_kj=litter.kj,
        preg_cp_mg=1000 * litter.fed_cp_g,
        preg_ca_mg=1000 * litter.fed_ca_g,
        preg_p_mg=1000 * litter.fed_p_g,
        me_sd_kj=sd_kj,
        floor_me_kj=floor_kj,
        appetite_g=1000 * appetite_kg,
        band_lo=low,
        band_hi=high,
        fcm_kg=fcm_kg,
    )


def _milked(facts: Facts, track: Track, appetite_kg: Days) -> tuple[Days, Days]:
    """Fat-corrected milk and all she can be expected to eat with it [kg/d]."""
    if not track.milk_kg.any():
        return np.zeros(track.on.shape), appetite_kg
    with term("appetite.milk"):
        fcm_kg = np.asarray(fat_corrected_milk(track.milk_kg, facts.milk.fat_pct))
        return fcm_kg, appetite_kg + np.asarray(appetite_milk(fcm_kg))


def calcium_fed(absorbed_g: Num, rules: Mapping[str, int]) -> Num:
    """Calcium in the diet [g/d] that supplies an absorbed need, at the herd's absorption."""
    return calcium.calcium_diet(absorbed_g, rules["calcium_absorption_pm"] / 1000)


def protein_goes_with_intake(facts: Facts) -> bool:
    """Whether her protein need has a part per kg eaten; the equation of a growing doe out of milk has none."""
    return not facts.mass.growing or facts.milk.in_milk


def held_day(facts: Facts, track: Track) -> Days:
    """Day of gestation for the litter's demand; past due it stays at term until she kids."""
    if facts.service is None:
        return track.gest
    return np.minimum(track.gest, float(facts.service.length))


@dataclass(frozen=True)
class Litter:
    """What the litter asks by day: energy [kJ], protein used and minerals absorbed [g]; and the diet for it."""

    kj: Days
    mp_g: Days
    ca_g: Days
    p_g: Days
    fed_cp_g: Days
    fed_ca_g: Days
    fed_p_g: Days


def litter_parts(facts: Facts, track: Track, day: Days, rules: Mapping[str, int]) -> Litter:
    """The litter's demand along a track; none where she carries none."""
    if facts.service is None or not track.carrying.any():
        none = np.zeros(day.shape)
        return Litter(none, none, none, none, none, none, none)
    of = np.maximum(day, 0.0), facts.service.litter * facts.mass.kid_kg, facts.service.length
    with term("me.pregnancy"):
        kj = _carried(track, pregnancy_energy_afrc1993(*of))
    with term("cp.pregnancy"):
        mp_g = _carried(track, pregnancy_protein(*of))
        fed_cp_g = np.asarray(protein.crude_protein(mp_g))
    with term("ca.pregnancy"):
        ca_g = _carried(track, calcium.calcium_pregnancy(*of))
        fed_ca_g = np.asarray(calcium_fed(ca_g, rules))
    with term("p.pregnancy"):
        p_g = _carried(track, phosphorus.phosphorus_pregnancy(*of))
        fed_p_g = np.asarray(phosphorus.phosphorus_diet(p_g))
    return Litter(kj, mp_g, ca_g, p_g, fed_cp_g, fed_ca_g, fed_p_g)


def _carried(track: Track, part: Num) -> Days:
    return np.where(track.carrying, part, 0.0)


def _appetite(facts: Facts, track: Track, kg: Days, day: Days) -> Days:
    base = _appetite_by_stage(facts, track, kg, day)
    if facts.service is None or not track.carrying.any():
        return base
    left = late_appetite_share(facts.service.length - np.maximum(day, 0.0), facts.service.litter)
    return np.where(track.carrying, base * left, base)


def _appetite_by_stage(facts: Facts, track: Track, kg: Days, day: Days) -> Days:
    milking = np.zeros(kg.shape)
    if track.in_milk.any():
        back = np.minimum(np.maximum(track.dim, 0.0), values("intake")["fresh_until_d"])
        milking = np.asarray(appetite_milk_base(kg, facts.size)) * np.asarray(fresh_appetite_share(back, track.kids))
    if track.in_milk.all():
        return milking
    return np.where(track.in_milk, milking, _appetite_resting(facts, track, kg, day))


def _appetite_resting(facts: Facts, track: Track, kg: Days, day: Days) -> Days:
    """Out of milk: a growing doe eats by her growth, a grown one more as what she carries grows."""
    if facts.mass.growing:
        return np.asarray(appetite_growing(kg))
    if facts.service is None or not track.carrying.any():
        return np.asarray(appetite_dry(kg))
    carrying = appetite_carrying(kg, np.maximum(day, 0.0), facts.service.length)
    return np.asarray(carrying if track.carrying.all() else np.where(track.carrying, carrying, appetite_dry(kg)))


def maintenance_part(facts: Facts, kg: Days, rules: Mapping[str, int]) -> Days:
    """Maintenance [kJ/d] by the herd's system, times her keeper factor."""
    if facts.mass.growing:
        need = maintenance_growing(kg, facts.mass.mature_kg)
    else:
        need = maintenance_gfe2003(kg) if rules["maintenance_system"] == 1 else maintenance_luo2004(kg)
    factor = 1000 if facts.keeper == "even" else rules[f"keeper_{facts.keeper}_pm"]
    return np.asarray(need) * factor / 1000


def growth_part(facts: Facts, kg: Days) -> tuple[Days, Days]:
    """Gain [g/d] and the energy for it [kJ/d], none once she is grown."""
    if not facts.mass.growing:
        return np.zeros(kg.shape), np.zeros(kg.shape)
    gain_g = np.asarray(expected_gain(kg, facts.mass.mature_kg))
    return gain_g, np.asarray(gain_energy(gain_g, kg, facts.mass.mature_kg))


def _body_calcium(facts: Facts, kg: Days, gain_g: Days) -> Days:
    """Absorbed calcium of her own body and growth [g/d]."""
    own = np.asarray(calcium.calcium_body_inra(kg))
    return own + calcium.calcium_growth(gain_g) if facts.mass.growing else own


def _body_phosphorus(facts: Facts, kg: Days, gain_g: Days) -> Days:
    """Absorbed phosphorus of her own body and growth [g/d]."""
    own = np.asarray(phosphorus.phosphorus_body_inra(kg))
    return own + phosphorus.phosphorus_growth(gain_g) if facts.mass.growing else own


def body_protein_part(facts: Facts, track: Track, kg: Days, gain_g: Days, eaten_kg: Days) -> Days:
    """Metabolizable protein of her own body and growth [g/d], without the part per kg eaten."""
    grown = np.asarray(protein.body_protein(kg))
    if not facts.mass.growing:
        return grown
    of_gain = np.asarray(protein.growing_protein_luo2004(kg, gain_g)) - protein.growing_protein_luo2004(kg, 0.0)
    if protein_goes_with_intake(facts):
        return grown + of_gain
    # her outlook's part per kg eaten is none, so where she is fresh it is put in here at the intake to expect
    fresh = np.asarray(protein.maintenance_protein_nsahlai2004(eaten_kg, kg)) + of_gain
    return np.where(track.in_milk, fresh, protein.growing_protein_luo2004(kg, gain_g))


def _bands(track: Track) -> tuple[Days, Days]:
    stage = np.array([STAGES.index(name) for name in BAND_OF_PHASE])[track.phase]
    exposed_in_milk = (track.phase == EXPOSED) & track.in_milk
    stage = np.where(exposed_in_milk, STAGES.index("milk_carrying"), stage)
    edges = np.zeros((len(STAGES), 2))
    for one in set(stage.tolist()):
        edges[one] = np.multiply(band(STAGES[one]), 100)
    return edges[stage, 0], edges[stage, 1]
