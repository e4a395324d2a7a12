"""Flat outlooks and a small book with round numbers, so that a balance can be worked by hand beside the test."""

from __future__ import annotations

from typing import Any

from herd.outlook.compiling.risk import COUNTED, EDGES
from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of
from herd.science.parameters import values
from herd.state.fold import fold

FLAT = {
    "phase": 5,
    "lane": 1,
    "gest": 60,
    "me_kj": 10000,
    "cp_mg": 100000,
    "ca_mg": 4000,
    "p_mg": 3000,
    "maint_kj": 8000,
    "growth_kj": 0,
    "preg_me_kj": 500,
    "preg_cp_mg": 5000,
    "preg_ca_mg": 500,
    "preg_p_mg": 300,
    "me_sd_kj": 1000,
    "floor_me_kj": 0,
    "milk_g": 0,
    "appetite_g": 1500,
    "band_lo": 275,
    "band_hi": 350,
    "plan_grain_g": 0,
    "plan_legume_pm": 200,
}


RISK: dict[str, Any] = {
    "toxemia": [],
    "milk_fever": [],
    "litter": [],
    "counted": True,
    "points": {name: round(values("risk")[of]) for name, (of, _) in COUNTED.items()},
    "edges": {name: round(by * values("risk")[of]) for name, (of, by) in EDGES.items()},
}


def branch(**over: Any) -> dict[str, list[int]]:
    """Sixty equal days; a list given for a name is used as it stands."""
    return {name: v if isinstance(v, list) else [v] * 60 for name, v in {**FLAT, **over}.items()}


def outlook(doe: str, today: str, branches: dict[str, Any] | None = None, **over: Any) -> dict[str, Any]:
    """An outlook compiled today for a doe bred 60 days ago, with 1 kJ-friendly drivers."""
    base: dict[str, Any] = {
        "schema": 1,
        "science": "test",
        "doe": doe,
        "rev": 1,
        "compiled_on": today,
        "day0": shift(today, -14),
        "n": 60,
        "basis": {"bred": "2026-09-01/2026-09-01", "check": "", "dried": "", "kidded": "", "weight": ""},
        "due": {"early": "2027-01-24", "mid": "2027-01-29", "late": "2027-02-04", "printed": "2027-01-29"},
        "drivers": {
            "fcm_pm": 1000,
            "me_kj_per_kg_fcm": 5000,
            "cp_mg_per_kg_milk": 60000,
            "ca_mg_per_kg_milk": 3000,
            "p_mg_per_kg_milk": 1500,
            "cp_mg_per_kg_dm": 0,
            "ca_mg_per_kg_dm": 0,
            "p_mg_per_kg_dm": 0,
            "appetite_g_per_kg_fcm": 300,
            "me_kj_per_point": 1200,
            "me_kj_per_point_lost": 800,
            "point_sd_pm": 420,
            "score_sd_x100": 30,
            "g_per_unit": 7000,
        },
        "limits": {
            "grain_meal_g": 300,
            "grain_day_g": 600,
            "grain_day_pm": 400,
            "milk_grain_day_g": 1200,
            "milk_grain_day_pm": 500,
            "step_g": 100,
            "step_days": 3,
            "forage_floor_g": 900,
        },
        "steps": [],
        "risk": RISK,
        "withheld": [],
        "season": {
            "day0": shift(today, -80),
            "me_kj": [9500] * 180,
            "floor_me_kj": [0] * 180,
            "phase": [5] * 180,
            "appetite_g": [1500] * 180,
        },
        "branches": branches or {"as_is": branch(), "dry": branch(), "open": branch(gest=-1, phase=0, lane=3)},
    }
    return {**base, **over}


def feed(kind: str, dm_pm: int, me: int | None, cp: int | None, ca: int | None, p: int | None) -> dict[str, Any]:
    return {
        "name": kind,
        "class": kind,
        "dm_pm": dm_pm,
        "me_kj_kg": me,
        "cp_ug_g": cp,
        "cp_eq_ug_g": cp,
        "ndf_pm": 600,
        "ca_ug_g": ca,
        "p_ug_g": p,
    }


def book(**rules: int) -> dict[str, Any]:
    """Grass hay at 8 MJ, alfalfa at 9 MJ and 14 g calcium, barley at 12 MJ: all 90 % dry; a feed nobody analysed."""
    feeds = {
        "hay": feed("grass", 900, 8000, 100000, 4000, 2500),
        "alfalfa": feed("legume", 900, 9000, 170000, 14000, 2400),
        "barley": feed("grain", 890, 12000, 120000, 600, 3700),
        "sprouts": feed("fodder", 150, 11000, 150000, 600, 4700),
        "mystery": feed("grass", 900, None, None, None, None),
    }
    return {"schema": 1, "science": "test", "doe": "", "rev": 1, "rules": {**rules_of({}), **rules}, "feeds": feeds}


def ranks() -> dict[str, int]:
    """Every prompt there is, with its rank."""
    return dict(FarmDay(fold([]), {}, book(), "2026-11-15").ask("ranks"))
