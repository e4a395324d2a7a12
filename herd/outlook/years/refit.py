"""A normal figure drawn from what is assumed toward what was seen.

Of the conjugate normal with unknown mean and spread: what is assumed counts as `mean_n` kiddings for the middle and as
`spread_n` for the spread, so nothing seen leaves it as it is, and many kiddings leave only what was seen.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, log, sqrt

from .numbers import LEADS, N

# The ninetieth of a hundred lies so many spreads above the middle.
TENTH = 1.2815515655446004


@dataclass(frozen=True)
class Assumed:
    """A middle and a spread, and as how many kiddings each of them counts."""

    mean: float
    sd: float
    mean_n: float
    spread_n: float


@dataclass(frozen=True)
class Fitted:
    """What comes of both; `own`: the middle of what was seen alone, None where nothing was."""

    n: int
    mean: float
    sd: float
    own: float | None


def refitted(assumed: Assumed, seen: Sequence[float]) -> Fitted:
    """Middle and spread after what was seen.

    mean = (k m0 + sum x) / (k + n); variance = (v s0^2 + sum (x - own)^2 + k n / (k + n) (own - m0)^2) / (v + n), with
    k = mean_n and v = spread_n.
    """
    n = len(seen)
    if not n:
        return Fitted(0, assumed.mean, assumed.sd, None)
    own = sum(seen) / n
    mean = (assumed.mean_n * assumed.mean + n * own) / (assumed.mean_n + n)
    apart = assumed.mean_n * n / (assumed.mean_n + n) * (own - assumed.mean) ** 2
    around = sum((one - own) ** 2 for one in seen)
    spread = (assumed.spread_n * assumed.sd**2 + around + apart) / (assumed.spread_n + n)
    return Fitted(n, mean, sqrt(spread), own)


def share(shows_pm: float, seen: int, looked: int) -> int:
    """Permille of does that show a sign: what is assumed counts as so many kiddings looked at."""
    prior = N["shows_prior_n"]
    return round((prior * shows_pm + 1000 * seen) / (prior + looked))


def lead_assumed(sign: str) -> Assumed:
    """The logarithm of the hours before the first kid, as the table assumes it."""
    row = LEADS[sign]
    spread = log(row["p90_h"] / row["p10_h"]) / (2 * TENTH)
    return Assumed(log(row["median_h"]), spread, N["lead_prior_n"], N["spread_prior_n"])


def bounded_lead(assumed: Assumed, fitted: Fitted) -> Fitted:
    """No middle farther from what is assumed than so many times."""
    most = log(N["lead_times_most"])
    mean = min(assumed.mean + most, max(assumed.mean - most, fitted.mean))
    return Fitted(fitted.n, mean, fitted.sd, fitted.own)


def minutes_of(log_hours: float) -> int:
    """Whole minutes, one at least."""
    return max(1, round(60 * exp(log_hours)))
