"""Figures of an outlook that do not change by day: linear drivers, limits, who she is, when she is due."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.base.arrays import Num
from herd.science.base.record import term
from herd.science.body.condition import condition_change, regain_energy, scorer_sd, unit_weight
from herd.science.intake.appetite import appetite_milk
from herd.science.intake.limits import forage_floor, grain_per_day, grain_per_meal, grain_share_of_dm
from herd.science.needs import calcium, phosphorus, protein
from herd.science.needs.lactation import fat_corrected_milk, lactation_energy_nsahlai2004
from herd.science.parameters import values

from ..shapes import Basis, Drivers, Due, Limits, Who, WithCondition, WithIntake, WithMilk
from .dates import iso
from .due import Service, day_chances
from .facts import Facts
from .needs import calcium_fed, protein_goes_with_intake

NO_DRIVERS: Drivers = {
    "fcm_pm": 0,
    "me_kj_per_kg_fcm": 0,
    "cp_mg_per_kg_milk": 0,
    "ca_mg_per_kg_milk": 0,
    "p_mg_per_kg_milk": 0,
    "cp_mg_per_kg_dm": 0,
    "ca_mg_per_kg_dm": 0,
    "p_mg_per_kg_dm": 0,
    "appetite_g_per_kg_fcm": 0,
    "me_kj_per_point": 0,
    "me_kj_per_point_lost": 0,
    "point_sd_pm": 0,
    "score_sd_x100": 0,
    "g_per_unit": 0,
}
NO_LIMITS: Limits = {
    "grain_meal_g": 0,
    "grain_day_g": 0,
    "grain_day_pm": 0,
    "milk_grain_day_g": 0,
    "milk_grain_day_pm": 0,
    "step_g": 0,
    "step_days": 0,
    "forage_floor_g": 0,
}


def drivers(facts: Facts, rules: Mapping[str, int]) -> Drivers:
    """What one more unit of milk, intake or condition asks for."""
    return {**_with_milk(facts, rules), **_with_intake(facts, rules), **_with_condition(facts.mass.kg)}


def _with_milk(facts: Facts, rules: Mapping[str, int]) -> WithMilk:
    with term("me.milk"):
        fcm_kg, kj = fat_corrected_milk(1.0, facts.milk.fat_pct), lactation_energy_nsahlai2004(1.0)
    with term("cp.milk"):
        cp_g = protein.crude_protein(protein.lactation_protein(10 * facts.milk.protein_pct))
    with term("ca.milk"):
        ca_g = calcium_fed(calcium.calcium_milk_inra(1.0), rules)
    with term("p.milk"):
        p_g = phosphorus.phosphorus_diet(phosphorus.phosphorus_milk_inra(1.0))
    with term("appetite.milk"):
        eats_kg = appetite_milk(1.0)
    return {
        "fcm_pm": _milli(fcm_kg),
        "me_kj_per_kg_fcm": round(float(kj)),
        "cp_mg_per_kg_milk": _milli(cp_g),
        "ca_mg_per_kg_milk": _milli(ca_g),
        "p_mg_per_kg_milk": _milli(p_g),
        "appetite_g_per_kg_fcm": _milli(eats_kg),
    }


def _with_intake(facts: Facts, rules: Mapping[str, int]) -> WithIntake:
    cp_g: Num = 0.0
    if protein_goes_with_intake(facts):
        with term("cp.intake"):
            cp_g = protein.crude_protein(protein.fecal_protein_nsahlai2004(1.0))
    with term("ca.intake"):
        ca_g = calcium_fed(calcium.calcium_intake_inra(1.0), rules)
    with term("p.intake"):
        p_g = phosphorus.phosphorus_diet(phosphorus.phosphorus_intake_inra(1.0))
    return {"cp_mg_per_kg_dm": _milli(cp_g), "ca_mg_per_kg_dm": _milli(ca_g), "p_mg_per_kg_dm": _milli(p_g)}


def _with_condition(kg: float) -> WithCondition:
    with term("me.regain"):
        gained_kj = regain_energy(kg)
    with term("condition.ahead"):
        return {
            "me_kj_per_point": round(gained_kj / 100),
            "me_kj_per_point_lost": round(loss_energy_kj(kg) / 100),
            "point_sd_pm": _milli(values("condition")["conversion_ln_sd"]),
            "score_sd_x100": round(100 * scorer_sd()),
            "g_per_unit": _milli(unit_weight(kg)),
        }


def _milli(number: Num) -> int:
    return round(1000 * float(number))


def loss_energy_kj(kg: float) -> float:
    """Energy short [kJ] that takes one unit of condition off her."""
    return -1.0 / float(condition_change(-1.0, kg))


def limits(facts: Facts, rules: Mapping[str, int]) -> Limits:
    """Grain and forage limits for her weight."""
    kg = facts.mass.kg
    with term("limits"):
        return {
            "grain_meal_g": round(grain_per_meal(kg)),
            "grain_day_g": round(float(grain_per_day(kg, False))),
            "grain_day_pm": round(1000 * grain_share_of_dm(False)),
            "milk_grain_day_g": round(float(grain_per_day(kg, True))),
            "milk_grain_day_pm": round(1000 * grain_share_of_dm(True)),
            "step_g": rules[f"step_{facts.size}_g"],
            "step_days": rules["step_days"],
            "forage_floor_g": round(forage_floor(kg)),
        }


def who(facts: Facts) -> Who:
    """Class, weight and litter she was worked as."""
    served, mass = facts.service, facts.mass
    return {
        "size": facts.size,
        "first": facts.first,
        "growing": mass.growing,
        "keeper": facts.keeper,
        "mass_g": round(1000 * mass.kg),
        "mass_from": mass.how,
        "litter_x100": round(100 * served.litter) if served else 0,
        "litter_from": "" if not served else "scan" if served.counted else "prior",
        "kid_g": round(1000 * mass.kid_kg),
    }


def due(served: Service | None) -> Due | None:
    """Her dates, None when she is open."""
    if served is None:
        return None
    day0, ppm = day_chances(served)
    return {
        "early": iso(served.early),
        "mid": iso(served.mid),
        "late": iso(served.late),
        "printed": iso(served.printed),
        "day0": iso(day0),
        "ppm": ppm,
    }


def basis(doe: Mapping[str, Any], weight: str) -> Basis:
    """The recorded state an outlook stands on."""
    bred, check, kidded = doe["bred"], doe["check"], doe["kidded"]
    return {
        "bred": f"{bred['from']}/{bred['to']}" if bred else "",
        "check": str(check["ev"]) if check else "",
        "dried": str(doe["dried_on"]),
        "kidded": str(kidded["on"]) if kidded else "",
        "weight": weight,
    }
