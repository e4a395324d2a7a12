"""Limits for reading a laboratory report: herd/science/parameters/lab.toml, as whole numbers."""

from __future__ import annotations

import tomllib
from pathlib import Path

from typescript import const

FILE = Path(__file__).resolve().parents[2] / "herd/science/parameters/lab.toml"
COMPOSITION = FILE.with_name("composition.toml")
TEN_THOUSANDTHS, HUNDRED_THOUSANDTHS, MILLION = 10_000, 100_000, 1_000_000
PER_TDN = {"me": "me_per_tdn", "nel": "tdn_per_nel"}
WHOLE = "kj_per_mcal"


def module() -> str:
    values = {name: row["value"] for name, row in tomllib.loads(FILE.read_text(encoding="utf-8")).items()}
    per_tdn = tomllib.loads(COMPOSITION.read_text(encoding="utf-8"))["me_mj_per_tdn_pct"]["value"]
    apart = {*PER_TDN.values(), WHOLE}
    limits = {name: round(value * TEN_THOUSANDTHS) for name, value in values.items() if name not in apart}
    return "".join(
        [
            "/** Ten-thousandths. */\n",
            const("LIMITS", limits),
            "/** Hundred-thousandths. */\n",
            const("PER_TDN", {name: round(values[key] * HUNDRED_THOUSANDTHS) for name, key in PER_TDN.items()}),
            const("KJ_PER_MCAL", values[WHOLE], "number"),
            "/** Joules of ME in a kg of dry matter for each per cent of TDN, as the book has it. */\n",
            const("ME_J_PER_TDN", round(per_tdn * MILLION), "number"),
        ]
    )
