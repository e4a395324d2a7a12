"""Her service: when she conceived, when she is due, and how many she carries."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from math import ceil, floor
from typing import Any

from herd.science.base.record import term
from herd.science.body.litter import litter_prior
from herd.science.dates.conception import conception_chances, own_gestation
from herd.science.dates.gestation import Chances, due_cdf, due_quantile, gestation_prior

from ..learned import NOTHING, Learned
from ..years.lengths import group_of
from .dates import Day
from .evidence import EARLY, LATE, evidence, is_apart, likely, past_gestations

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
    # each day she may have settled on, counted from day0, with its chance and what it adds to sd_d
    day0: Day = 0
    settled: Chances = ()
    mean_d: float = 0.0
    sd_d: float = 0.0


def service(
    doe: Mapping[str, Any],
    size: str,
    breed: str,
    kidding: int,
    rules: Mapping[str, int],
    learned: Learned = NOTHING,
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
        farm = learned.length(group_of(doe))
        mean, sd = gestation_prior(breed if breed != "unknown" or size == "standard" else "mini_cross", litter, farm)
        mean = own_gestation(mean, past_gestations(doe))
        day0, known = evidence(doe)
        made = _dated(day0, conception_chances(known), mean, sd, rules[f"preg_days_{size}"])
    notes = [] if counted else ["litter_not_counted"]
    notes += ["service_window"] if made.window > 1 else []
    notes += ["farm_length"] if farm else []
    notes += ["scan_apart"] if is_apart(made.settled, known) else []
    return replace(made, litter=litter, counted=counted, checked=found), notes


def _dated(day0: Day, settled: Chances, mean: float, sd: float, printed_d: int) -> Service:
    mid = day0 + round(due_quantile(0.5, settled, mean, sd))
    length = round(mean)
    first, last = likely(settled)
    return Service(
        first=day0 + first,
        window=last - first + 1,
        conception=mid - length,
        length=length,
        early=day0 + floor(due_quantile(EARLY, settled, mean, sd)),
        mid=mid,
        late=day0 + ceil(due_quantile(LATE, settled, mean, sd)),
        printed=mid - length + printed_d,
        litter=0,
        counted=0,
        checked=False,
        day0=day0,
        settled=settled,
        mean_d=mean,
        sd_d=sd,
    )


def gestation_on(served: Service | None, on: Day) -> int:
    """Day of gestation on a date, -1 before conception or when she is open."""
    return on - served.conception if served and on >= served.conception else -1


def day_chances(served: Service) -> tuple[Day, list[int]]:
    """The first day on which she may kid, and the chance of each day from then on in millionths."""
    skipped, chances = day_chances_of(served.settled, served.mean_d, served.sd_d)
    return served.day0 + skipped, list(chances)


@lru_cache(1024)
def day_chances_of(settled: Chances, mean_d: float, sd_d: float) -> tuple[int, tuple[int, ...]]:
    """Days skipped from the day the others are counted from, and the chance of each day from then on in millionths."""
    reach = FARTHEST_SD * (sd_d + max(wider_d for _, _, wider_d in settled))
    low, high = floor(settled[0][0] + mean_d - reach), ceil(settled[-1][0] + mean_d + reach) + 1
    by = [due_cdf(after_d, settled, mean_d, sd_d) for after_d in range(low, high + 1)]
    found = [round(PPM * (later - sooner)) for sooner, later in zip(by, by[1:], strict=False)]
    some = [at for at, ppm in enumerate(found) if ppm]
    return low + some[0], tuple(found[some[0] : some[-1] + 1])
