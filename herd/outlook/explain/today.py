"""Fibre, forage, calcium to phosphorus, temperature, ketones and risk as the prompt saw them."""

from __future__ import annotations

from typing import Any

from ..evaluate import FarmDay
from .words import heading


def today_text(farm: FarmDay, doe_id: str, result: dict[str, Any]) -> list[str]:
    """One line each; nothing where nothing was recorded or worked out."""
    return [
        *heading("Fibre, readings and risk"),
        *_fibre(farm, doe_id, result),
        *_ca_p(farm, result),
        *_readings(farm, doe_id, result),
        *_risk(result),
    ]


def _fibre(farm: FarmDay, doe_id: str, result: dict[str, Any]) -> list[str]:
    fibre, low = result["fibre"], farm.rules["ndf_low_pm"]
    if not fibre or fibre["st"] == "unknown":
        return ["  fibre: not known, too few days confirmed"]
    forage = _forage(farm, doe_id, fibre)
    return [f"  fibre {fibre['ndf_pm']} g NDF per kg dry matter, low below {low}: {fibre['st']}; {forage}"]


def _forage(farm: FarmDay, doe_id: str, fibre: dict[str, Any]) -> str:
    least = farm.outlooks[doe_id]["limits"]["forage_floor_g"]
    return f"{fibre['forage_g']} g dry forage a day, least {least}"


def _ca_p(farm: FarmDay, result: dict[str, Any]) -> list[str]:
    ratio, rules = result["lines"].get("ca", {}).get("per_p_x100", 0), farm.rules
    if not ratio:
        return []
    least, most = rules["ca_p_low_x100"], rules["ca_p_high_x100"]
    return [f"  calcium {ratio / 100:g} to 1 of phosphorus, least {least / 100:g}, most {most / 100:g}"]


def _readings(farm: FarmDay, doe_id: str, result: dict[str, Any]) -> list[str]:
    rules = farm.rules
    rows = [row for row in farm.view["does"][doe_id]["checkups"] if row[0] <= farm.day]
    if not rows:
        return ["  temperature and ketones: never taken"]
    on, temp, blood, urine = rows[-1][0], rows[-1][2], rows[-1][3], rows[-1][4]
    said = [f"{temp / 10:g} degrees C"] if temp else []
    said += [f"blood ketones {blood / 10:g} mmol/L"] if blood else []
    said += [f"urine strip {urine}"] if urine else []
    bands = ", ".join(f"{rules[f'bhb_{word}_x10'] / 10:g} {word}" for word in ("watch", "act", "vet"))
    usual = f"{rules['temp_low_x10'] / 10:g} to {rules['temp_high_x10'] / 10:g} degrees C"
    word = result["checkup"]["code"] if result["checkup"] else "nothing to do"
    return [f"  on {on}: {', '.join(said)}: {word}", f"  ketones from: {bands} mmol/L; temperature usual at {usual}"]


def _risk(result: dict[str, Any]) -> list[str]:
    found = result.get("risk") or {}
    return [
        f"  risk of {name.replace('_', ' ')}: {risk['band']}, judgement; most by {risk['most'] or 'nothing'}"
        for name, risk in found.items()
        if risk
    ]
