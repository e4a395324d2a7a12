"""The formulas of an outlook's days once more, as numpy alone: no ranges checked, no names, nothing remembered.

Grown does only. What a compiled branch holds beside these figures (bands of condition, the rule plan) is left out, so
the product is compared with less than it does.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from herd.outlook.compiling.facts import Facts
from herd.outlook.rules import RULES
from herd.science.parameters import values

Array = NDArray[np.float64]
R = {name: rule.default for name, rule in RULES.items()}
T = 147.0
ABSORPTION = R["calcium_absorption_pm"] / 1000
PREG, MIN, PROT, EAT, LACT = (
    dict(values(name)) for name in ("pregnancy", "minerals", "protein", "intake", "lactation")
)
MP_PER_CP = PROT["mp_per_cp_degraded"] + PROT["mp_per_cp_slope"] * PROT["uip_share"]
LIMITS = dict(values("limits"))
FALL = (EAT["fall_1"], EAT["fall_2"], EAT["fall_3"])


@dataclass(frozen=True)
class Doe:
    kg: float
    size: str
    litter: float
    kid_kg: float
    length: float
    sd_body: float
    sd_litter: float
    fat_pct: float
    total_kg: float
    maint_kj: float


def doe_of(facts: Facts) -> Doe:
    """Constants of one doe, taken from the facts the product gathers too."""
    served, kg = facts.service, facts.mass.kg
    counted = "litter_scan_sd_pm" if served and served.counted else "litter_prior_sd_pm"
    body = np.hypot(R["maintenance_sd_pm"], 0.75 * R[f"mass_{facts.mass.how}_sd_pm"])
    litter = np.sqrt(R["kid_weight_sd_pm"] ** 2 + R[counted] ** 2 + R["conceptus_sd_pm"] ** 2)
    return Doe(
        kg=kg,
        size=facts.size,
        litter=served.litter if served else 1.0,
        kid_kg=facts.mass.kid_kg,
        length=float(served.length) if served else 150.0,
        sd_body=float(body),
        sd_litter=float(litter),
        fat_pct=facts.milk.fat_pct,
        total_kg=facts.milk.total_305_kg,
        maint_kj=values("maintenance")["mature_dairy_kj"] * kg**0.75,
    )


def milk_kg(doe: Doe, dim: Array, kids: int) -> Array:
    share = {1: LACT["single_share"], 2: LACT["twin_share"]}.get(kids, LACT["many_share"])
    t = np.clip(dim + 1, 1, 800)
    shape = t ** LACT["wood_b_grown"] * np.exp(-LACT["wood_c_grown"] * t)
    return np.where(dim >= 0, doe.total_kg * share / LACT["wood_sum_grown"] * shape, 0.0)


def gain(t: Array, kind: str, kg: float, stretch: float) -> Array:
    depth, rate = PREG[f"{kind}_depth"], PREG[f"{kind}_rate"]
    fall = depth * np.exp(-rate * t)
    return kg / PREG["curve_kid_kg"] * 10 ** (PREG[f"{kind}_top"] - fall) * fall * rate * np.log(10) * stretch


def branch(
    doe: Doe, gest: Array, dim: Array, in_milk: NDArray[np.bool_], milk: Array, kids: int
) -> dict[str, list[int]]:
    """Needs, appetite and floor of one track's days, as whole numbers."""
    carrying, day, mbw = gest >= 0, np.clip(gest, 0, doe.length), doe.kg**0.75
    litter_kg, stretch = doe.litter * doe.kid_kg, T / doe.length
    energy = 1000 * gain(day * stretch, "energy", litter_kg, stretch) / PREG["energy_efficiency"]
    mp = gain(day * stretch, "protein", litter_kg, stretch) / PREG["protein_efficiency"]
    term = MIN["term_d"] / doe.length
    full = (
        1000
        / PREG["curve_kid_kg"]
        * 10 ** (PREG["energy_top"] - PREG["energy_depth"] * np.exp(-PREG["energy_rate"] * MIN["term_d"]))
    )
    laid = 1000 * gain(day * term, "energy", 1.0, 1.0) / full * term
    preg = [np.where(carrying, part, 0.0) for part in (energy, mp, laid)]
    fcm = milk * (LACT["milk_energy_base_mj"] + LACT["milk_energy_per_fat_mj"] * doe.fat_pct)
    fcm = fcm / (LACT["milk_energy_base_mj"] + LACT["milk_energy_per_fat_mj"] * LACT["fcm_fat_pct"])
    left = 1 - np.interp(doe.litter, (1, 2, 3), FALL) * np.clip(1 - (doe.length - day) / EAT["fall_d"], 0, 1)
    back = np.clip(dim, 0, EAT["fresh_until_d"])
    days = (0, EAT["fresh_rise_d"], EAT["fresh_until_d"] - EAT["fresh_rise_d"], EAT["fresh_until_d"])
    shares = (1 - np.interp(kids, (1, 2, 3), FALL), EAT["fresh_share"], EAT["fresh_share"], 1)
    along = np.minimum(1, day / (doe.length - EAT["fall_d"])) ** EAT["carrying_power"]
    resting = EAT["dry_kg_mbw"] + np.where(carrying, EAT["carrying_rise_kg_mbw"] * along, 0.0)
    base = np.where(in_milk, EAT[f"milk_base_{doe.size}_kg_mbw"] * np.interp(back, days, shares), resting)
    eats = base * mbw * np.where(carrying, left, 1.0)
    maint = np.full(gest.shape, doe.maint_kj)
    body_mp = PROT["urinary_g_mbw"] * mbw + PROT["scurf_g"] * doe.kg ** PROT["scurf_exponent"]
    ca = MIN["ca_per_kg_bw"] * doe.kg + MIN["ca_per_kg_litter"] * litter_kg * preg[2]
    p = MIN["p_base_g"] + MIN["p_per_kg_bw"] * doe.kg + MIN["p_per_kg_litter"] * litter_kg * preg[2]
    return whole(
        {
            "me_kj": maint + preg[0],
            "cp_mg": 1000 * (body_mp + preg[1]) / MP_PER_CP,
            "ca_mg": 1000 * ca / ABSORPTION,
            "p_mg": 1000 * p / MIN["p_absorption"],
            "maint_kj": maint,
            "preg_me_kj": preg[0],
            "preg_cp_mg": 1000 * preg[1] / MP_PER_CP,
            "preg_ca_mg": 1000 * MIN["ca_per_kg_litter"] * litter_kg * preg[2] / ABSORPTION,
            "preg_p_mg": 1000 * MIN["p_per_kg_litter"] * litter_kg * preg[2] / MIN["p_absorption"],
            "me_sd_kj": np.hypot(maint * doe.sd_body, preg[0] * doe.sd_litter) / 1000,
            "floor_me_kj": floor(doe, gest, in_milk, preg[0], eats),
            "appetite_g": 1000 * eats,
            "milk_g": 1000 * milk,
            "season_me_kj": maint + preg[0] + 1000 * LACT["me_per_fcm_mj"] * fcm,
            "season_appetite_g": 1000 * (eats + EAT["per_kg_fcm"] * fcm),
        }
    )


def floor(doe: Doe, gest: Array, in_milk: NDArray[np.bool_], preg_kj: Array, eats: Array) -> Array:
    low = min(values("maintenance")["gfe_kj"] * doe.kg**0.75, doe.maint_kj) + R["floor_share_pm"] / 1000 * preg_kj
    most = []
    for kind in ("dry", "milk"):
        grain_kg = LIMITS[f"day_{kind}_g_kg"] * doe.kg / LIMITS["grain_dm_share"] * R["grain_dm_pm"] / 10**6
        grain = np.minimum(eats * LIMITS[f"day_{kind}_share"], grain_kg)
        most.append(grain * R["plan_grain_kj_kg"] + (eats - grain) * R["dense_hay_kj_kg"])
    return np.where(gest >= R["late_day"], np.minimum(low, np.where(in_milk, most[1], most[0])), 0.0)


def whole(figures: dict[str, Array]) -> dict[str, list[int]]:
    return {name: np.rint(days).astype(np.int64).tolist() for name, days in figures.items()}
