"""What a farm's own kiddings have taught: timings of signs and lengths of gestation, from the document of its years.

Each is already drawn toward what is assumed and bounded (`herd/outlook/years`); of fewer kiddings than are enough
nothing is taken.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import log
from typing import Any

from herd.science.dates.signs import P10_TO_P90, SIGNS, Lead

from .compiling.signs import Leads


@dataclass(frozen=True)
class Learned:
    """leads: sign, timing, kiddings. lengths: breed group, mean and standard deviation [d], kiddings."""

    leads: Leads = ()
    lengths: tuple[tuple[str, float, float, int], ...] = ()

    def length(self, group: str) -> tuple[float, float] | None:
        """Mean and standard deviation of a breed group at the usual litter; None where the published one counts."""
        return next(((mean, sd) for name, mean, sd, _ in self.lengths if name == group), None)


NOTHING = Learned()


def learned_of(years: Mapping[str, Any] | None) -> Learned:
    """From the document of the years; one that an older build made may lack its parts."""
    if not years:
        return NOTHING
    signs = [row for row in years.get("signs", ()) if row["enough"] and row["sign"] in SIGNS]
    lengths = [row for row in years.get("lengths", ()) if row["enough"]]
    return Learned(
        tuple((row["sign"], _lead(row), row["n"]) for row in signs),
        tuple((row["group"], row["mean_x10"] / 10, row["sd_x10"] / 10, row["n"]) for row in lengths),
    )


def _lead(row: Mapping[str, Any]) -> Lead:
    return Lead(row["median_min"] / 60, log(row["p90_min"] / row["p10_min"]) / P10_TO_P90, row["shows_pm"] / 1000)
