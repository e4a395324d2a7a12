"""The whole explanation of one doe and one nutrient, from who she is to the prompt."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..days import shift
from ..evaluate import FarmDay
from .balance import ahead_text, balance_text
from .band import band_text
from .case import case_text
from .cited import figures_text
from .eaten import eaten_text
from .need import appetite_text, need_text
from .today import today_text
from .verdict import condition_text, thresholds_text, verdict_text
from .who import dates_text, who_text


def report(farm: FarmDay, doe_id: str, doe: Mapping[str, Any], rules: Mapping[str, int], nutrient: str) -> list[str]:
    """Lines of text. `doe` is her record as the outlook was compiled from it.

    Parameters
    ----------
    farm : the farm on one day, with every doe's outlook
    doe_id : her id
    doe : her folded record, of the kinds that shape an outlook
    rules : the farm's herd rules over our defaults
    nutrient : me, cp, ca or p
    """
    result = farm.ask("results")["does"].get(doe_id)
    if result is None:
        return ["  she is no longer in the herd"]
    if result["standing"] != "ok":
        why = "a buck" if result["standing"] == "buck" else f"her outlook is {result['standing']}"
        return [*case_text(result), *verdict_text(farm, result, nutrient), f"  {why}: no amounts"]
    last = last_day(farm, doe_id)
    return [
        *who_text(farm, doe_id, rules),
        *dates_text(farm, doe_id),
        *need_text(farm, doe_id, doe, rules, last, nutrient),
        *appetite_text(farm, doe_id, last),
        *figures_text(farm, doe_id, last),
        *eaten_text(farm, doe_id, last, nutrient),
        *balance_text(farm, doe_id, nutrient),
        *band_text(farm, doe_id, result, nutrient),
        *ahead_text(farm, doe_id, nutrient),
        *condition_text(farm, doe_id, result["band"]),
        *today_text(farm, doe_id, result),
        *case_text(result),
        *thresholds_text(farm, doe_id, nutrient),
        *verdict_text(farm, result, nutrient),
    ]


def last_day(farm: FarmDay, doe_id: str) -> str:
    """The latest day a balance counts: today once every planned meal is confirmed, else yesterday."""
    return farm.day if farm.ask("confirmed", doe_id, farm.day) else shift(farm.day, -1)
