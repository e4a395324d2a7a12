"""A water test as printed, read for the card: milligrams per litre."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.water_minerals.printed import ONE, figure
from herd.science.water_minerals.water import TESTED, nitrate_from_nitrogen, water_band

PER_LITRE = {"mg_l": 1.0, "ug_l": 0.001}
MOST_MG_L = 100_000.0  # more is no water


def last_test(view: Mapping[str, Any]) -> dict[str, Any] | None:
    """The newest water test; of one day, the one recorded last."""
    tests = sorted(view["water"], key=lambda test: test["on"])
    return dict(tests[-1]) if tests else None


def read_test(water: Mapping[str, Any]) -> dict[str, float | None]:
    """Milligrams per litre by name; nitrate turned into nitrate nitrogen, what cannot be read left out."""
    found: dict[str, float | None] = {}
    for what, printed, unit in water["values"]:
        mg_l = _mg_l(printed, unit)
        if mg_l is not None and mg_l <= MOST_MG_L:
            found[what] = _below(what, mg_l) if printed.startswith("<") else mg_l
    nitrate = found.pop("nitrate", None)
    if nitrate is not None and "nitrate_n" not in found:
        found["nitrate_n"] = nitrate / float(nitrate_from_nitrogen(1.0))
    return found


def _mg_l(printed: str, unit: str) -> float | None:
    written = figure(printed.lstrip("< "))
    return None if written is None else written / ONE * PER_LITRE.get(unit, 1.0)


def _below(what: str, limit_mg_l: float) -> float | None:
    """Under a detection limit that is itself harmless there is none; under any other, nobody knows."""
    harmless = what not in TESTED or limit_mg_l == 0 or water_band(what, limit_mg_l) == "green"
    return 0.0 if harmless else None
