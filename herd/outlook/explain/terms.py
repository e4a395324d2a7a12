"""Need of one nutrient on one date, term by term, from the same pieces the outlook was compiled from."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from herd.science.body.growth import expected_gain
from herd.science.needs import calcium, phosphorus, protein

from ..compiling.branches import span
from ..compiling.dates import day
from ..compiling.facts import Facts, facts_of
from ..compiling.needs import body_protein_part, calcium_fed, growth_part, held_day, litter_parts, maintenance_part
from ..compiling.track import as_is
from ..evaluate import FarmDay

Key = tuple[str, str]
Compiled = tuple[float, ...]


@dataclass(frozen=True)
class Term:
    """One part of a need [kJ or mg a day], how it came about, and the parameters (topic, name) it rests on."""

    name: str
    value: int
    how: str
    keys: tuple[Key, ...] = ()


@dataclass(frozen=True)
class Body:
    """The doe on the date: own weight, gain, day of gestation, and the parts her litter and body ask for."""

    facts: Facts
    kg: float
    gain_g: float
    gest: float
    maintenance_kj: float
    growth_kj: float
    litter: Compiled
    body_mp_g: float


def body_on(facts: Facts, rules: Mapping[str, int], on: str) -> Body:
    """Her own part of the need, worked again for one date of the branch she is in."""
    track = as_is(facts, span(day(on), 1))
    kg = facts.mass.on(track.on - facts.today)
    gain = np.asarray(expected_gain(kg, facts.mass.mature_kg)) if facts.mass.growing else np.zeros(1)
    held = held_day(facts, track)
    return Body(
        facts=facts,
        kg=float(kg[0]),
        gain_g=float(gain[0]),
        gest=float(held[0]),
        maintenance_kj=float(maintenance_part(facts, kg, rules)[0]),
        growth_kj=float(growth_part(facts, kg, gain)[0]),
        litter=tuple(float(part[0]) for part in litter_parts(facts, track, held)),
        body_mp_g=float(body_protein_part(facts, track, kg, gain, np.zeros(1))[0]),
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
        terms = [Term("her own", compiled[column], "compiled ahead for what was recorded since")]
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
        Term("maintenance", round(body.maintenance_kj), how, _maintenance_keys(body.facts, rules)),
        Term("pregnancy", round(body.litter[0]), _litter_how(body), _curve_keys("energy")),
        Term("growth", round(body.growth_kj), f"{body.gain_g:.0f} g gain a day", _growth_keys()),
    ]


def _maintenance_keys(facts: Facts, rules: Mapping[str, int]) -> tuple[Key, ...]:
    if facts.mass.growing:
        names = ["growing_dairy_kj", "mature_dairy_kj", "growing_until_share"]
    else:
        names = ["gfe_kj" if rules["maintenance_system"] == 1 else "mature_dairy_kj"]
    return tuple(("maintenance", name) for name in [*names, "mbw_exponent"])


def _litter_how(body: Body) -> str:
    served = body.facts.service
    if served is None:
        return ""
    kids, kid_kg = served.litter, body.facts.mass.kid_kg
    return f"day {body.gest:.0f} of {served.length}, {kids:g} kids x {kid_kg:.2f} kg at birth"


def _curve_keys(kind: str) -> tuple[Key, ...]:
    return tuple(("pregnancy", f"{kind}_{part}") for part in ("top", "depth", "rate", "efficiency"))


def _growth_keys() -> tuple[Key, ...]:
    return ("growth", "approach_per_d"), ("growth", "gain_growing_kj_g"), ("growth", "gain_mature_kj_g")


def _protein(body: Body, rules: Mapping[str, int]) -> list[Term]:
    own, litter = (1000 * float(protein.crude_protein(mp)) for mp in (body.body_mp_g, body.litter[1]))
    per = f"/ {protein.mp_per_cp():.3f} g per g crude protein"
    grown = not body.facts.mass.growing
    names = ("urinary_g_mbw", "scurf_g", "scurf_exponent") if grown else ("growing_g_mbw", "growing_g_g")
    return [
        Term("body and growth", round(own), f"{body.body_mp_g:.1f} g metabolizable {per}", _keys("protein", *names)),
        Term("pregnancy", round(litter), f"{body.litter[1]:.1f} g {per}; {_litter_how(body)}", _curve_keys("protein")),
    ]


def _mineral(body: Body, kind: str, parts: tuple[float, float, float], to_diet: Callable[[float], Any]) -> list[Term]:
    own, litter, gain = (1000 * float(to_diet(part)) for part in parts)
    return [
        Term(
            "body",
            round(own),
            f"{parts[0]:.2f} g absorbed",
            _keys("minerals", f"{kind}_per_kg_bw", f"{kind}_absorption"),
        ),
        Term(
            "pregnancy",
            round(litter),
            f"{parts[1]:.2f} g absorbed; {_litter_how(body)}",
            _keys("minerals", f"{kind}_per_kg_litter"),
        ),
        Term("growth", round(gain), f"{parts[2]:.2f} g absorbed", _keys("minerals", f"{kind}_per_kg_gain")),
    ]


def _calcium(body: Body, rules: Mapping[str, int]) -> list[Term]:
    parts = (float(calcium.calcium_body_inra(body.kg)), body.litter[2], float(calcium.calcium_growth(body.gain_g)))
    return _mineral(body, "ca", parts, lambda absorbed_g: calcium_fed(absorbed_g, rules))


def _phosphorus(body: Body, rules: Mapping[str, int]) -> list[Term]:
    own = float(phosphorus.phosphorus_body_inra(body.kg))
    parts = (own, body.litter[3], float(phosphorus.phosphorus_growth(body.gain_g)))
    return _mineral(body, "p", parts, phosphorus.phosphorus_diet)


def _keys(topic: str, *names: str) -> tuple[Key, ...]:
    return tuple((topic, name) for name in names)


def _with_milk(farm: FarmDay, doe_id: str, on: str, nutrient: str) -> list[Term]:
    drivers, milk_g = farm.outlooks[doe_id]["drivers"], farm.ask("milk_on", doe_id, on)
    if nutrient == "me":
        fcm_g, per = farm.ask("fcm_on", doe_id, on), drivers["me_kj_per_kg_fcm"]
        how = f"{milk_g} g milk = {fcm_g} g at 4 % fat x {per} kJ/kg"
        return [Term("milk", fcm_g * per // 1000, how, _keys("lactation", "me_per_fcm_mj", "fcm_fat_pct"))]
    per = drivers[f"{nutrient}_mg_per_kg_milk"]
    keys = _keys("protein", "per_milk_protein") if nutrient == "cp" else _keys("minerals", f"{nutrient}_per_kg_milk")
    return [Term("milk", milk_g * per // 1000, f"{milk_g} g milk x {per} mg/kg", keys)]


def _with_intake(farm: FarmDay, doe_id: str, nutrient: str, dm_g: int) -> Term:
    per = farm.outlooks[doe_id]["drivers"][f"{nutrient}_mg_per_kg_dm"]
    keys = _keys("protein", "fecal_g_per_kg_dm") if nutrient == "cp" else _keys("minerals", f"{nutrient}_per_kg_dm")
    return Term("losses with intake", dm_g * per // 1000, f"{dm_g} g dry matter eaten x {per} mg/kg", keys)


def _abroad(farm: FarmDay, doe_id: str, on: str, compiled: Mapping[str, int]) -> list[Term]:
    """What the pen's ground and the day's weather add to maintenance."""
    alive, rules = compiled["maint_kj"], farm.rules
    ground, cold = farm.ask("activity_pm", doe_id, on), farm.ask("cold_pm", on)
    slope = f"{rules['cold_pm_per_c'] / 10:g} % a degree, at most {rules['cold_cap_pm'] / 10:g} %"
    return [
        Term("ground", alive * ground // 1000, f"{ground / 10:g} % of maintenance, the pen's own figure"),
        Term("cold", alive * cold // 1000, f"{cold / 10:g} % of maintenance by the day's weather; {slope}"),
    ]


def _regain(farm: FarmDay, doe_id: str, on: str) -> Term:
    per, days = farm.outlooks[doe_id]["drivers"]["me_kj_per_point"], farm.rules["regain_days"]
    how = f"to the foot of her band in {days} days at {per} kJ per 0.01 condition"
    return Term("regain", farm.ask("regain_kj", doe_id, on), how, _keys("condition", "gain_mj_kg", "kg_share_per_unit"))


OWN: dict[str, Callable[[Body, Mapping[str, int]], list[Term]]] = {
    "me": _energy,
    "cp": _protein,
    "ca": _calcium,
    "p": _phosphorus,
}
