"""The chance that she kids in the hours ahead, from her dates and what looks at her found, hour by half hour.

The exact form: a phone works with the tables of `herd/outlook/compiling/signs.py` and whole numbers, and is held to it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import exp

from .signs import Lead, careful_log, shown_limits, sign_absent, sign_new, sign_present

STEP_H = 0.5
MOST_LEAD_H = 2400.0


@dataclass(frozen=True)
class Finding:
    """What is known of one sign: "present", "absent" or "new", hours ago, and for a new one since the look before.

    own : the farm's own timing of it, where it has one
    """

    sign: str
    how: str
    ago_h: float = 0.0
    gap_h: float = 0.0
    own: Lead | None = None

    def chance(self, lead_h: float) -> float:
        """How likely it is for a doe whose first kid comes so many hours from now."""
        lead = min(lead_h + self.ago_h, MOST_LEAD_H)
        if self.how == "new":
            return sign_new(self.sign, lead, self.gap_h, self.own)
        chance = sign_present if self.how == "present" else sign_absent
        return chance(self.sign, lead, self.own)

    def log(self, lead_h: float) -> float:
        """Its log, drawn toward nothing."""
        return careful_log(self.chance(lead_h), self.how != "absent")


def after_looks(
    prior: Sequence[float],
    leads_h: Sequence[float],
    findings: Sequence[Finding],
    power: float = 1.0,
    log_of: Callable[[Finding, float], float] = Finding.log,
) -> list[float]:
    """Chance of each of some hours to the first kid, after what looks found.

    Parameters
    ----------
    prior : how likely each was by her dates, in any measure; she has not kidded by now
    leads_h : the hours [h] themselves, one for each
    findings : one of each sign
    power : for the product over signs, beside what `log_of` does to each
    log_of : drawn toward nothing where none is given
    """
    logs = [power * sum(log_of(each, lead_h) for each in findings) for lead_h in leads_h]
    top = max(logs, default=0.0)
    weighed = [chance * exp(told - top) for chance, told in zip(prior, logs, strict=True)]
    whole = sum(weighed)
    return [each / whole for each in weighed] if whole else []


def half_hours(kidded_by: Callable[[float], float], most_h: float) -> tuple[list[float], list[float]]:
    """Chance by half hour from now, and the middle of each [h], from the chance that she has kidded by some hours."""
    edges = [step * STEP_H for step in range(int(most_h / STEP_H) + 1)]
    by = [kidded_by(edge) for edge in edges]
    prior = [later - sooner for sooner, later in zip(by, by[1:], strict=False)]
    return prior, [edge + STEP_H / 2 for edge in edges[:-1]]


def within(hours: float, by_half_hour: Sequence[float]) -> float:
    """Chance of the first kid within some hours, as it is shown: never out of the question, never sure."""
    least, most = shown_limits()
    return min(most, max(least, sum(by_half_hour[: round(hours / STEP_H)])))
