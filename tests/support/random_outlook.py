"""Random outlooks and books in the shape the compiler gives them, with figures that make the evaluation work."""

from __future__ import annotations

import random
from typing import Any

from herd.outlook.days import shift
from herd.outlook.rules import RULES
from tests.support.outlooks import RISK, feed


class RandomOutlook:
    """`calm`: figures of a farm that is run well."""

    def __init__(self, dice: random.Random, today: str, calm: bool) -> None:
        self.dice, self.today, self.calm = dice, today, calm

    def ahead(self, most: int) -> str:
        return shift(self.today, self.dice.randint(1, most))

    def known(self, key: str) -> str:
        return key if self.calm or self.dice.random() < 0.9 else ""

    def outlook(self, doe: str, events: list[dict[str, Any]]) -> dict[str, Any]:
        dice = self.dice
        bred = [e for e in events if e["kind"] == "bred" and e["subject"] == doe]
        first, last = (bred[-1]["data"]["from_on"], bred[-1]["data"]["to_on"]) if bred else ("", "")
        key = f"{first}/{max(last, first)}" if bred else ""
        early = dice.choice((3, 20, 27, 28, 29, 60))
        due = {name: shift(self.today, early + k) for k, name in enumerate(("early", "mid", "late", "printed"))}
        names = dice.sample(("dry", "open", "kidded1", "kidded2", "kidded3"), dice.randint(0, 5))
        withheld = not self.calm and dice.random() < 0.03
        return {
            "schema": dice.choice((1,) * 30 + (2,)),
            "science": "test",
            "doe": doe,
            "rev": 1,
            "compiled_on": self.today,
            "day0": shift(self.today, -14),
            "n": 60,
            "basis": {
                "bred": key if self.calm or dice.random() < 0.9 else "",
                "check": "",
                "dried": "",
                "kidded": "",
                "weight": "",
            },
            "due": due if bred and dice.random() < 0.9 else None,
            "drivers": self.drivers(),
            "limits": self.limits(),
            "steps": [{"on": self.ahead(10), "g": 50 * (k + 1)} for k in range(dice.randint(0, 2))],
            "withheld": [{"line": "amounts", "why": "missing", "name": "size"}] if withheld else [],
            "branches": {} if withheld else {name: self.branch() for name in ("as_is", *names)},
            "season": self.season(),
            **({"risk": self.risk()} if dice.random() < 0.95 else {}),
        }

    def risk(self) -> dict[str, Any]:
        """Sometimes a doe with much against her, or one more point from the band would never be crossed."""
        dice = self.dice
        own = {"toxemia": ("triplets", "had_it_before"), "milk_fever": ("had_it_before", "older"), "litter": ("twins",)}
        fixed = {name: [[code, dice.randint(0, 3)] for code in codes] for name, codes in own.items()}
        return {**RISK, **fixed, "counted": dice.random() < 0.5}

    def drivers(self) -> dict[str, int]:
        return {
            "fcm_pm": self.dice.choice((1000, 1173)),
            "me_kj_per_kg_fcm": 5023,
            "cp_mg_per_kg_milk": 61_007,
            "ca_mg_per_kg_milk": 3_011,
            "p_mg_per_kg_milk": 1_507,
            "cp_mg_per_kg_dm": self.dice.choice((0, 13)),
            "ca_mg_per_kg_dm": self.dice.choice((0, 623)),
            "p_mg_per_kg_dm": self.dice.choice((0, 881)),
            "appetite_g_per_kg_fcm": 305,
            "me_kj_per_point": 1213,
            "me_kj_per_point_lost": self.dice.choice((0, 807, 807, 807)),
            "point_sd_pm": 420,
            "score_sd_x100": 30,
            "g_per_unit": 7000,
        }

    def limits(self) -> dict[str, int]:
        return {
            "grain_meal_g": self.dice.choice((150, 300)),
            "grain_day_g": self.dice.choice((250, 600)),
            "grain_day_pm": 400,
            "milk_grain_day_g": 1200,
            "milk_grain_day_pm": 500,
            "step_g": self.dice.choice((50, 100)),
            "step_days": self.dice.choice((1, 3)),
            "forage_floor_g": 900,
        }

    def branch(self) -> dict[str, list[int]]:
        dice, n = self.dice, self.dice.choice((60, 60, 60, 30))
        gest = dice.choice((40, 84, 95, 120) if self.calm else (-1, 40, 84, 95, 120))
        low = dice.choice((250, 275))
        every = {
            "phase": dice.randint(0, 10),
            "lane": dice.randint(0, 3),
            "me_kj": dice.randint(8000, 12_000) if self.calm else dice.randint(3000, 12_000),
            "cp_mg": dice.randint(30_000, 180_000 if self.calm else 120_000),
            "ca_mg": dice.randint(4000, 9000) if self.calm else dice.randint(1000, 6000),
            "p_mg": dice.randint(1000, 5000),
            "maint_kj": dice.randint(2000, 7000),
            "growth_kj": 0,
            "preg_me_kj": 500,
            "preg_cp_mg": 0,
            "preg_ca_mg": 0,
            "preg_p_mg": 0,
            "me_sd_kj": dice.randint(0, 1500),
            "floor_me_kj": dice.choice((0, 0, dice.randint(3000, 12_000))),
            "milk_g": dice.choice((0, 0, dice.randint(200, 2500))),
            "appetite_g": dice.randint(1200, 1800) if self.calm else dice.randint(300, 2500),
            "band_lo": low,
            "band_hi": low + 75,
            "plan_grain_g": 0,
            "plan_legume_pm": 200,
        }
        made = {name: [value + (k % 3 if value > 900 else 0) for k in range(n)] for name, value in every.items()}
        return {**made, "gest": [gest + k if gest >= 0 else -1 for k in range(n)]}

    def season(self) -> dict[str, Any]:
        n = self.dice.choice((0, 120))
        figures = {name: [self.dice.randint(0, 9000)] * n for name in ("me_kj", "floor_me_kj", "phase", "appetite_g")}
        return {"day0": shift(self.today, -70), **figures}

    def book(self) -> dict[str, Any]:
        dice = self.dice
        rules = {name: rule.default for name, rule in RULES.items()}
        for name in dice.sample(sorted(RULES), 6):
            rules[name] = dice.randint(RULES[name].low, RULES[name].high)
        feeds = {
            "hay": feed("grass", 900, 8000, 100_000, 4000, dice.choice((2500, 2500, 4000))),
            "alfalfa": feed("legume", 903, 9000, 170_000, 14_000, 2400),
            "barley": feed("grain", 890, 12_000, 120_000, 600, 3700),
            "sprouts": feed("fodder", 150, 11_000, 150_000, 600, 4700),
            "mystery": feed("grass", 900, None, None, None, dice.choice((None, 2000))),
        }
        if dice.random() < 0.5:
            feeds["lot1"] = {**feeds["hay"], "of": "hay", "ca_ug_g": dice.choice((None, 4100)), "me_sd_pm": 50}
            feeds["alfalfa"] |= dice.choice(({}, {"grazed": 1, "me_sd_pm": 364}))
            feeds["hay"]["ndf_pm"] = dice.choice((None, 200, 640))
        schema = dice.choice((1,) * 40 + (2,))
        return {"schema": schema, "science": "test", "doe": "", "rev": 1, "rules": rules, "feeds": feeds}
