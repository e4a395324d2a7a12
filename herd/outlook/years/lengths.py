"""How long does of this farm carry, by breed group, beside what is published or assumed of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from herd.science.dates.gestation import OWN_PRIOR, PRIOR_STANDARD
from herd.science.parameters import values

from .kiddings import Kidding
from .numbers import N
from .refit import Assumed, Fitted, refitted

P = values("gestation")


def group_of(doe: Mapping[str, Any]) -> str:
    """The breed group whose figures are hers: as the due date takes it, a miniature of no breed for a mini cross."""
    breed = str(doe["f"].get("breed", "unknown"))
    if breed not in (*OWN_PRIOR, *PRIOR_STANDARD) and doe["f"].get("size") == "mini":
        return "mini_cross"
    return breed if breed in OWN_PRIOR else "standard" if breed in PRIOR_STANDARD else "unknown"


def length_assumed(group: str) -> Assumed:
    """Of a breed group, at the usual litter. The middle counts as many kiddings as make its spread that of farms."""
    mean, sd = P[f"{group}_d"], P[f"{group}_sd_d"]
    return Assumed(mean, sd, (10 * sd / N["farm_sd_x10"]) ** 2, N["spread_prior_n"])


def lengths(does: Mapping[str, Mapping[str, Any]], kiddings: Iterable[Kidding]) -> dict[str, list[float]]:
    """Days carried, by group, each put to the usual litter."""
    found: dict[str, list[float]] = {}
    for one in kiddings:
        if N["length_low_d"] <= one.length <= N["length_high_d"] and one.born:
            usual = one.length - P["litter_d"] * (one.born - P["litter_mean"])
            found.setdefault(group_of(does[one.doe]), []).append(usual)
    return found


def length_rows(found: Mapping[str, list[float]]) -> list[dict[str, Any]]:
    """For the document: days x 10, assumed, seen here, and what comes of both."""
    return [_row(group, seen) for group, seen in sorted(found.items())]


def fitted_length(group: str, seen: list[float]) -> Fitted:
    """Bounded: so many days from the breed's figure at the most, no spread below the least."""
    assumed = length_assumed(group)
    fitted = refitted(assumed, seen)
    most = N["length_moves_x10"] / 10
    mean = min(assumed.mean + most, max(assumed.mean - most, fitted.mean))
    return Fitted(fitted.n, mean, max(N["own_sd_least_x10"] / 10, fitted.sd), fitted.own)


def _row(group: str, seen: list[float]) -> dict[str, Any]:
    assumed, fitted = length_assumed(group), fitted_length(group, seen)
    return {
        "group": group,
        "n": fitted.n,
        "assumed_x10": round(10 * assumed.mean),
        "own_x10": 0 if fitted.own is None else round(10 * fitted.own),
        "mean_x10": round(10 * fitted.mean),
        "sd_x10": round(10 * fitted.sd),
        "enough": fitted.n >= N["used_from_n"],
    }
