"""The days of one branch: where she stands in gestation and lactation on each of them, and the milk to expect."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from herd.science.base.arrays import Days
from herd.science.base.record import term
from herd.science.dates.phase import Codes, Flags, lanes, phases
from herd.science.parameters import values

from .facts import Facts
from .milk import Milk

FAR = 10.0**7


def usual_kids() -> int:
    """The litter behind a milk curve where none was counted."""
    return round(values("assumed")["usual_kids"])


@dataclass(frozen=True)
class Track:
    """One value per day. gest and dim are -1 where they do not apply; kids is the litter behind the milk."""

    on: Days
    gest: Days
    dim: Days
    in_milk: Flags
    milk_kg: Days
    phase: Codes
    lane: Codes
    kids: int
    dry_from: float

    @property
    def carrying(self) -> Flags:
        return self.gest >= 0


def as_is(facts: Facts, on: Days) -> Track:
    """As she is recorded, with the herd rules followed ahead."""
    milk = facts.milk
    kidded = float(milk.kidded) if milk.kidded is not None else FAR
    stops = float(milk.dry_off) if milk.dry_off is not None else FAR
    in_milk = (on >= kidded) & (on < stops)
    dim = np.where(in_milk, on - kidded, -1.0)
    milk_kg = _expected(milk, dim) * (milk.winding_down(on) if milk.dried is None else 1.0)
    return _track(facts, on, _gest(facts, on), dim, in_milk, milk_kg, milk.kids or usual_kids(), stops)


def dry(facts: Facts, on: Days) -> Track:
    """Dried off today instead."""
    none = np.zeros(on.shape)
    return _track(facts, on, _gest(facts, on), none - 1, none > 0, none, usual_kids(), float(facts.today), dried=True)


def not_carrying(facts: Facts, on: Days) -> Track:
    """Found open."""
    milk = facts.milk
    kidded = float(milk.kidded) if milk.kidded is not None else FAR
    stops = float(milk.dried) if milk.dried is not None else FAR
    in_milk = (on >= kidded) & (on < stops)
    dim = np.where(in_milk, on - kidded, -1.0)
    milk_kg = _expected(milk, dim)
    return _track(facts, on, np.full(on.shape, -1.0), dim, in_milk, milk_kg, milk.kids or usual_kids(), FAR)


def kidded(facts: Facts, on: Days, kids: int) -> Track:
    """Fresh with this many kids, from the first day given."""
    dim = on - on[0]
    with term("milk"):
        milk_kg = facts.milk.next_expected(dim, facts.first, kids)
    return _track(facts, on, np.full(on.shape, -1.0), dim, dim >= 0, milk_kg, kids, FAR, fresh=True)


def _expected(milk: Milk, dim: Days) -> Days:
    """Milk of this lactation [kg/d]; where she is in milk on no day there is none to work."""
    if not (dim >= 0).any():
        return np.zeros(dim.shape)
    with term("milk"):
        return milk.expected(dim, milk.first, milk.kids)


def _gest(facts: Facts, on: Days) -> Days:
    if facts.service is None:
        return np.full(on.shape, -1.0)
    days = on - facts.service.conception
    return np.where(days >= 0, days, -1.0)


def _track(
    facts: Facts,
    on: Days,
    gest: Days,
    dim: Days,
    in_milk: Flags,
    milk_kg: Days,
    kids: int,
    dry_from: float,
    dried: bool = False,
    fresh: bool = False,
) -> Track:
    first = facts.first and not fresh
    rested = dried or facts.dried_in_pregnancy
    with term("phase"):
        phase = phases(gest, dim, in_milk, first, rested, facts.checked, facts.stages)
        lane = lanes(gest, in_milk, first and facts.mass.growing)
    return Track(on, gest, dim, in_milk, milk_kg, phase, lane, kids, dry_from)
