"""Need of one nutrient on one date, term by term, from the same pieces the outlook was compiled from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from herd.science.needs import calcium, phosphorus, protein

from ..compiling.branches import span
from ..compiling.dates import day
from ..compiling.facts import Facts, facts_of
from ..compiling.needs import (
    Litter,
    body_protein_part,
    calcium_fed,
    growth_part,
    held_day,
    litter_parts,
    maintenance_part,
)
from ..compiling.track import as_is
from ..evaluate import FarmDay


@dataclass(frozen=True)
class Term:
    """One part of a need [kJ or mg a day], how it came about, and the codes its record goes by."""

    name: str
    value: int
    how: str
    codes: tuple[str, ...]


@dataclass(frozen=True)
class Body:
    """The doe on the date: own weight, gain, day of gestation, and the parts her litter and body ask for."""

    facts: Facts
    kg: float
    gain_g: float
    gest: float
    maintenance_kj: float
    growth_kj: float
    litter: Litter
    body_mp_g: float


def body_on(facts: Facts, rules: Mapping[str, int], on: str) -> Body:
    """Her own part of the need, worked again for one date of the branch she is in."""
    track = as_is(facts, span(day(on), 1))
    kg = facts.mass.on(track.on - facts.today)
    gain_g, growth_kj = growth_part(facts, kg)
    held = held_day(facts, track)
    return Body(
        facts=facts,
        kg=float(kg[0]),
        gain_g=float(gain_g[0]),
        gest=float(held[0]),
        maintenance_kj=float(maintenance_part(facts, kg, rules)[0]),
        growth_kj=float(growth_kj[0]),
        litter=litter_parts(facts, track, held, rules),
        body_mp_g=float(body_protein_part(facts, track, kg, gain_g, np.zeros(1))[0]),
    )


def need_terms(
    farm: FarmDay, doe_id: str, doe: Mapping[str, Any], rules: Mapping[str, int], on: str, nutrient: str, dm_g: int
) -> list[Term]:
    """All terms of a need; they add up to what the balance used, but for rounding of each."""
    compiled = farm.ask("compiled_on", doe_id, on)
    if compiled is None:
        return []
    if farm.ask("branch_name", doe_id) == "as_is":
        body = body_on(facts_of(doe, rules, day(farm.outlooks[doe_id]["compiled_on"])), rules, on)
        terms = OWN[nutrient](body, rules)
    else:
        column = "me_kj" if nutrient == "me" else f"{nutrient}_mg"
        how = "compiled ahead for what was recorded since"
        terms = [Term("her own", compiled[column], how, ("maintenance", "body", "pregnancy", "growth"))]
    terms += _with_milk(farm, doe_id, on, nutrient)
    if nutrient == "me":
        terms += [*_abroad(farm, doe_id, on, compiled), _regain(farm, doe_id, on)]
    else:
        terms.append(_with_intake(farm, doe_id, nutrient, dm_g))
    used = {part["code"]: part["value"] for part in farm.ask("need_terms", doe_id, on, nutrient, dm_g)}
    told = [replace(term, value=used.get(term.name, term.value)) if nutrient == "me" else term for term in terms]
    return [term for term in told if term.value]


def _energy(body: Body, rules: Mapping[str, int]) -> list[Term]:
    mbw = body.kg**0.75
    factor = 1000 if body.facts.keeper == "even" else rules[f"keeper_{body.facts.keeper}_pm"]
    each = body.maintenance_kj * 1000 / factor / mbw
    times = "" if factor == 1000 else f" x {factor / 1000:g} for her keeper class"
    how = f"{each:.1f} kJ x {body.kg:.2f} kg^0.75{times}"
    return [
        Term("maintenance", round(body.maintenance_kj), how, ("maintenance",)),
        Term("pregnancy", round(float(body.litter.kj[0])), _litter_how(body), ("pregnancy",)),
        Term("growth", round(body.growth_kj), f"{body.gain_g:.0f} g gain a day", ("growth",)),
    ]


def _litter_how(body: Body) -> str:
    served = body.facts.service
    if served is None:
        return ""
    kids, kid_kg = served.litter, body.facts.mass.kid_kg
    return f"day {body.gest:.0f} of {served.length}, {kids:g} kids x {kid_kg:.2f} kg at birth"


def _protein(body: Body, rules: Mapping[str, int]) -> list[Term]:
    own, litter_mp_g = body.body_mp_g, float(body.litter.mp_g[0])
    per = f"/ {protein.mp_per_cp():.3f} g per g crude protein"
    grown = "body" if not body.facts.mass.growing else "body and growth"
    return [
        Term(grown, round(1000 * float(protein.crude_protein(own))), f"{own:.1f} g metabolizable {per}", ("body",)),
        Term(
            "pregnancy",
            round(1000 * float(body.litter.fed_cp_g[0])),
            f"{litter_mp_g:.1f} g {per}; {_litter_how(body)}",
            ("pregnancy",),
        ),
    ]


def _mineral(body: Body, parts: tuple[float, float, float], to_diet: Callable[[float], Any]) -> list[Term]:
    own, litter, gain = (round(1000 * float(to_diet(part))) for part in parts)
    return [
        Term("body", own, f"{parts[0]:.2f} g absorbed", ("body",)),
        Term("pregnancy", litter, f"{parts[1]:.2f} g absorbed; {_litter_how(body)}", ("pregnancy",)),
        Term("growth", gain, f"{parts[2]:.2f} g absorbed", ("body",)),
    ]


def _calcium(body: Body, rules: Mapping[str, int]) -> list[Term]:
    own = float(calcium.calcium_body_inra(body.kg))
    parts = (own, float(body.litter.ca_g[0]), float(calcium.calcium_growth(body.gain_g)))
    return _mineral(body, parts, lambda absorbed_g: calcium_fed(absorbed_g, rules))


def _phosphorus(body: Body, rules: Mapping[str, int]) -> list[Term]:
    own = float(phosphorus.phosphorus_body_inra(body.kg))
    parts = (own, float(body.litter.p_g[0]), float(phosphorus.phosphorus_growth(body.gain_g)))
    return _mineral(body, parts, phosphorus.phosphorus_diet)


def _with_milk(farm: FarmDay, doe_id: str, on: str, nutrient: str) -> list[Term]:
    drivers, milk_g = farm.outlooks[doe_id]["drivers"], farm.ask("milk_on", doe_id, on)
    if nutrient == "me":
        fcm_g, per = farm.ask("fcm_on", doe_id, on), drivers["me_kj_per_kg_fcm"]
        how = f"{milk_g} g milk = {fcm_g} g at 4 % fat x {per} kJ/kg"
        return [Term("milk", fcm_g * per // 1000, how, ("milk",))]
    per = drivers[f"{nutrient}_mg_per_kg_milk"]
    return [Term("milk", milk_g * per // 1000, f"{milk_g} g milk x {per} mg/kg", ("milk",))]


def _with_intake(farm: FarmDay, doe_id: str, nutrient: str, dm_g: int) -> Term:
    per = farm.outlooks[doe_id]["drivers"][f"{nutrient}_mg_per_kg_dm"]
    return Term("losses with intake", dm_g * per // 1000, f"{dm_g} g dry matter eaten x {per} mg/kg", ("intake",))


def _abroad(farm: FarmDay, doe_id: str, on: str, compiled: Mapping[str, int]) -> list[Term]:
    """What the pen's ground and the day's weather add to maintenance."""
    alive, rules = compiled["maint_kj"], farm.rules
    ground, cold = farm.ask("activity_pm", doe_id, on), farm.ask("cold_pm", on)
    slope = f"{rules['cold_pm_per_c'] / 10:g} % a degree, at most {rules['cold_cap_pm'] / 10:g} %"
    return [
        Term("ground", alive * ground // 1000, f"{ground / 10:g} % of maintenance, the pen's own figure", ("ground",)),
        Term("cold", alive * cold // 1000, f"{cold / 10:g} % of maintenance by the day's weather; {slope}", ("cold",)),
    ]


def _regain(farm: FarmDay, doe_id: str, on: str) -> Term:
    per, days = farm.outlooks[doe_id]["drivers"]["me_kj_per_point"], farm.rules["regain_days"]
    how = f"to the foot of her band in {days} days at {per} kJ per 0.01 condition"
    return Term("regain", farm.ask("regain_kj", doe_id, on), how, ("regain",))


OWN: dict[str, Callable[[Body, Mapping[str, int]], list[Term]]] = {
    "me": _energy,
    "cp": _protein,
    "ca": _calcium,
    "p": _phosphorus,
}
