"""Her lactation: since when, how rich, how her own weighings bend the expected curve, and when she is dried off."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from herd.science.base.arrays import Days
from herd.science.body.weight import breed_milk
from herd.science.needs.lactation import litter_milk_share, milk_curve_wood
from herd.science.needs.milk_fit import MilkFit, Weighing, fitted_milk, her_fit, usable
from herd.science.parameters import values

from .dates import Day, day
from .due import Service


def longest_d() -> float:
    """Days in milk past which the curve is held."""
    return values("assumed")["longest_milk_d"]


@dataclass(frozen=True)
class Milk:
    """Lactation facts; kidded, dried and dry_off are day numbers, dry_off the day milking stops by record or rule."""

    in_milk: bool
    kidded: Day | None
    dried: Day | None
    dry_off: Day | None
    first: bool
    kids: int
    fat_pct: float
    protein_pct: float
    total_305_kg: float
    own: MilkFit | None
    taper_d: int
    left_share: float

    def expected(self, dim: Days, first: bool, kids: int) -> Days:
        """Milk of this lactation by day since kidding [kg/d], 0 before it; held at the last day of the curve."""
        held, total = np.clip(dim + 1, 1.0, longest_d()), self.total_kg(first, kids)
        curve = fitted_milk(self.own, held, total, first) if self.own else milk_curve_wood(held, total, first)
        return np.where(dim >= 0, curve, 0.0)

    def next_expected(self, dim: Days, first: bool, kids: int) -> Days:
        """Milk of the lactation to come [kg/d]: how much she gives goes along, the shape of this one does not."""
        held = np.clip(dim + 1, 1.0, longest_d())
        scale = self.own.scale if self.own else 1.0
        return np.where(dim >= 0, scale * np.asarray(milk_curve_wood(held, self.total_kg(first, kids), first)), 0.0)

    def total_kg(self, first: bool, kids: int) -> float:
        """Expected milk of 305 days [kg] for her lactation and litter."""
        share = values("lactation")["first_share"] if first else 1.0
        return self.total_305_kg * share * litter_milk_share(kids)

    def winding_down(self, on: Days) -> Days:
        """Share of the curve left as milkings are cut before dry-off."""
        if self.dry_off is None or not self.taper_d:
            return np.ones(on.shape)
        along = np.clip((on - (self.dry_off - self.taper_d)) / self.taper_d, 0.0, 1.0)
        return 1 - along * (1 - self.left_share)


def milk_of(
    doe: Mapping[str, Any],
    size: str,
    breed: str,
    done: int,
    served: Service | None,
    rules: Mapping[str, int],
    today: Day,
) -> tuple[Milk, list[str]]:
    """Her lactation with what had to be assumed for it."""
    total, breed_fat, protein = breed_milk(breed, size)
    kidded, notes = _kidded(doe, today)
    dried = day(doe["dried_on"]) if doe["dried_on"] else None
    in_milk = kidded is not None and dried is None
    first = done <= 1
    kids = int(doe["kidded"]["born"]) if doe["kidded"] else 0
    plain = Milk(in_milk, kidded, dried, None, first, kids, breed_fat, protein, total, None, 0, 1.0)
    # the days before she was dried off, and the milk to come, still go by what she gave
    own = _own_fit(doe, plain, dried if dried is not None else today)
    notes += ["milk_by_breed"] if in_milk and own is None else []
    fat, by_breed = _fat(doe, breed_fat)
    notes += ["fat_by_breed"] if by_breed and (in_milk or served) else []
    own_day = _own_day(doe, today) if in_milk else None
    dry_off = dried if dried is not None else own_day or (_planned(served, size, rules, today) if in_milk else None)
    notes += ["dry_off_by_rule"] if in_milk and dry_off is not None and own_day is None else []
    taper, left = _fewer_milkings_d(doe, rules), rules["milk_at_dry_off_pm"] / 1000
    made = replace(plain, dry_off=dry_off, fat_pct=fat, own=own, taper_d=taper, left_share=left)
    return made, notes


def _kidded(doe: Mapping[str, Any], today: Day) -> tuple[Day | None, list[str]]:
    if doe["kidded"]:
        return day(doe["kidded"]["on"]), []
    weighed = [day(row[0]) for row in doe["milks"] if day(row[0]) <= today]
    if weighed and not doe["dried_on"] and today - weighed[-1] <= values("assumed")["still_milking_d"]:
        return weighed[-1] - round(values("assumed")["guessed_days_in_milk"]), ["kidding_date_unknown"]
    return None, []


def _planned(served: Service | None, size: str, rules: Mapping[str, int], today: Day) -> Day | None:
    """Counted from the earliest service, so no doe of a long window misses her dry period; never in the past."""
    if served is None:
        return None
    by_rule = served.first + rules[f"dry_off_day_{size}"]
    return by_rule if by_rule > today else today + rules["dry_off_taper_d"]


def _own_day(doe: Mapping[str, Any], today: Day) -> Day | None:
    """The day after the last milking its owner planned; None where she planned none, or was milked after it."""
    plan = doe.get("dry_plan")
    if not plan:
        return None
    last = day(plan["last_on"])
    milked_on = any(last < day(row[0]) <= today for row in doe["milks"])
    return None if milked_on else last + 1


def _fewer_milkings_d(doe: Mapping[str, Any], rules: Mapping[str, int]) -> Day:
    """Days of fewer milkings before the last, by what was chosen for her, else by the herd's rule."""
    way = (doe.get("dry_plan") or {}).get("way") or ("abrupt" if rules["dry_off_way"] else "gradual")
    return rules["milkings_cut_d"] if way == "gradual" else 0


def _fat(doe: Mapping[str, Any], breed_fat: float) -> tuple[float, bool]:
    own = int(doe["f"].get("fat_x100") or 0)
    tested = [row[3] for row in doe["milks"] if row[3]]
    if own or tested:
        return (own or tested[-1]) / 100, False
    return breed_fat, True


def _own_fit(doe: Mapping[str, Any], milk: Milk, today: Day) -> MilkFit | None:
    """Her weighed days of this lactation against the expected curve; None while nothing after colostrum is weighed."""
    records = _weighings(doe, milk.kidded or 0, today)
    if not usable(records) or milk.kidded is None:
        return None
    return her_fit(records, milk.total_kg(milk.first, milk.kids), milk.first, min(today - milk.kidded + 1, longest_d()))


def _weighings(doe: Mapping[str, Any], kidded: Day, today: Day) -> list[Weighing]:
    by_day: dict[Day, int] = {}
    for row in doe["milks"]:
        on = day(row[0])
        if kidded <= on <= today and on - kidded < longest_d():
            by_day[on] = by_day.get(on, 0) + int(row[1])
    days = sorted(by_day)
    # today may still lack its evening milking
    whole = days[:-1] if len(days) > 1 and days[-1] == today else days
    return [Weighing(on - kidded + 1, by_day[on] / 1000) for on in whole]
