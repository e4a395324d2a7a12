"""What stands on the shelf and comes from the well: a mineral put out to take at will, and a water test."""

from __future__ import annotations

from random import Random
from typing import Any

from .cast import OWNER, START
from .diary import Diary
from .phone import uuid7

TESTED_D = 34
LABEL: dict[str, Any] = {
    "name": "Loose mineral, blue bag",
    "class": "mineral",
    "free_choice": True,
    "free_g_x10": 70,
    "dm_pct_x10": 1000,
    "ca_pct_x100": 1600,
    "p_pct_x100": 800,
    "mg_pct_x100": 150,
    "na_pct_x100": 790,
    "cl_pct_x100": 1210,
    "cu_ppm_x100": 165_000,
    "zn_ppm_x100": 560_000,
    "se_ppm_x100": 2_600,
}
WATER = (
    ("tds", "820"),
    ("sulfate", "610"),
    ("nitrate_n", "3.1"),
    ("fe", "1.4"),
    ("mn", "0.08"),
    ("ca", "96"),
    ("mg", "31"),
)


def shelf(diary: Diary, farm_id: str, rng: Random) -> None:
    mineral = uuid7(diary.at(START, "19:00"), rng)
    diary.note(OWNER, START, "19:20", "feed", mineral, {"f": LABEL, "base": dict.fromkeys(LABEL, "")})
    values = [{"what": what, "printed": printed, "unit": "mg_l"} for what, printed in WATER]
    diary.note(OWNER, TESTED_D, "12:20", "water", farm_id, {"place": "Well", "drunk_l": 52, "values": values})
