"""Her service: when she conceived, when she is due, and how many she carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor
from typing import Any

from herd.science.base.record import term
from herd.science.body.litter import litter_prior
from herd.science.dates.gestation import due_cdf, due_quantile, gestation_prior

from .dates import Day, day

EARLY, LATE = 0.02, 0.98
PPM = 1_000_000
# so many standard deviations from the mean nothing is left of a millionth
FARTHEST_SD = 5


@dataclass(frozen=True)
class Service:
    """One pregnancy, or hoped-for pregnancy, with its dates as day numbers."""

    first: Day
    window: int
    conception: Day
    length: int
    early: Day
    mid: Day
    late: Day
    printed: Day
    litter: float
    counted: int
    checked: bool
    mean_d: float
    sd_d: float


def service(
    doe: Mapping[str, Any], size: str, breed: str, kidding: int, rules: Mapping[str, int]
) -> tuple[Service | None, list[str]]:
    """The service her dates hang on, with what had to be assumed; None when she is open."""
    bred, check = doe["bred"], doe["check"]
    if not bred:
        return None, []
    found = bool(check) and check["result"] == "pregnant"
    counted = int(check["kids"]) if found else 0
    with term("litter"):
        litter = float(counted) if counted else litter_prior(size, breed, kidding)
    with term("due"):
        return _dated(bred, counted, litter, found, size, breed, rules)


def _dated(
    bred: Mapping[str, Any], counted: int, litter: float, found: bool, size: str, breed: str, rules: Mapping[str, int]
) -> tuple[Service, list[str]]:
    mean, sd = gestation_prior(breed if breed != "unknown" or size == "standard" else "mini_cross", litter)
    first, window = day(bred["from"]), day(bred["to"]) - day(bred["from"]) + 1
    mid = first + round(due_quantile(0.5, window, mean, sd))
    length = round(mean)
    made = Service(
        first=first,
        window=window,
        conception=mid - length,
        length=length,
        early=first + floor(due_quantile(EARLY, window, mean, sd)),
        mid=mid,
        late=first + ceil(due_quantile(LATE, window, mean, sd)),
        printed=mid - length + rules[f"preg_days_{size}"],
        litter=litter,
        counted=counted,
        checked=found,
        mean_d=mean,
        sd_d=sd,
    )
    notes = [] if counted else ["litter_not_counted"]
    return made, notes + (["service_window"] if window > 1 else [])


def gestation_on(served: Service | None, on: Day) -> int:
    """Day of gestation on a date, -1 before conception or when she is open."""
    return on - served.conception if served and on >= served.conception else -1


def day_chances(served: Service) -> tuple[Day, list[int]]:
    """The first day on which she may kid, and the chance of each day from then on in millionths."""
    skipped, chances = day_chances_of(served.window, served.mean_d, served.sd_d)
    return served.first + skipped, list(chances)


@lru_cache(1024)
def day_chances_of(window: int, mean_d: float, sd_d: float) -> tuple[int, tuple[int, ...]]:
    """Days skipped after the first service, and the chance of each day from then on in millionths."""
    low, high = floor(mean_d - FARTHEST_SD * sd_d), ceil(mean_d + window + FARTHEST_SD * sd_d)
    by = [due_cdf(after_d, window, mean_d, sd_d) for after_d in range(low, high + 1)]
    found = [round(PPM * (later - sooner)) for sooner, later in zip(by, by[1:], strict=False)]
    some = [at for at, ppm in enumerate(found) if ppm]
    return low + some[0], tuple(found[some[0] : some[-1] + 1])
