"""Kidding: at what hour, from which day on it is one, and what the number of kids does to it."""

from __future__ import annotations

from collections.abc import Mapping
from math import floor
from typing import Any

from herd.outlook.compiling.evidence import EARLY
from herd.outlook.tables import NUMBERS
from herd.science.dates.gestation import due_quantile, gestation_prior
from herd.science.dates.signs import lead_judged
from tests.support.exposed import exposed
from tests.support.near_kidding import Dates


def _first_day(breed: str, kids: float) -> int:
    """Day of gestation from which she is watched, bred on a day somebody saw."""
    return floor(due_quantile(EARLY, exposed(1), *gestation_prior(breed, kids)))


def _loss_before(breed: str, kids: float) -> int:
    """Signs before that day of gestation are the vet's as a loss; as `labour.ts` of the client has it."""
    mean_d, _ = gestation_prior(breed, kids)
    usual = min(round(mean_d), _first_day(breed, kids) + int(NUMBERS["labour_spread_d"]["value"]))
    return usual - int(NUMBERS["labour_early_d"]["value"])


def _between(from_h: float, to_h: float) -> float:
    """Share of the kids of one day, as a phone spreads its chance over the hours."""
    one_day = Dates([1_000_000])
    return (one_day.kidded_by(to_h) - one_day.kidded_by(from_h)) / 10_000


KIDDING: Mapping[str, Any] = {
    "litter_effect": lambda breed: gestation_prior(breed, 2)[0] - gestation_prior(breed, 1)[0],
    "watch_from_day": _first_day,
    "loss_before_day": _loss_before,
    "kids_between": _between,
    "sign_shows_pct": lambda sign: 100 * lead_judged(sign).shows,
}
