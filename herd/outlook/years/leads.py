"""How long before the first kid each sign was first seen, kidding by kidding, and the lead times that come of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import log
from typing import Any

from .kiddings import Kidding
from .numbers import LEADS, N
from .refit import TENTH, bounded_lead, lead_assumed, minutes_of, refitted, share

HOUR_MS = 3_600_000
DAY_MS = 24 * HOUR_MS
Look = tuple[int, frozenset[str], frozenset[str]]


@dataclass(frozen=True)
class SignFigures:
    """Of one sign: log hours before the first kid, and of how many does looked at near kidding how many showed it."""

    leads: tuple[float, ...]
    seen: int
    looked: int


def looks_of(doe: dict[str, Any]) -> list[Look]:
    """When she was looked at for signs, in order of time: what was seen, what was not."""
    return sorted((at, frozenset(seen), frozenset(absent)) for at, seen, absent, *_ in doe["signs"])


def first_seen(looks: Sequence[Look], sign: str, kid_at: int) -> int | None:
    """When a sign came to stay before a kidding [ms]; None where it was not there at most of the last looks.

    One look that missed it does not end what was seen before, nor does one call by mistake long before begin it: of all
    looks from which on it was there, those are taken at which it was oftenest found against not. Between the look
    before and the first with it lies when it came: the middle of a short gap is taken, of a longer one, or of none, the
    look on which it was first seen.
    """
    told = [
        (at, sign in seen)
        for at, seen, absent in looks
        if kid_at - N["lead_most_d"] * DAY_MS <= at < kid_at and sign in seen | absent
    ]
    balance, best, since = 0, 0, None
    for place in range(len(told) - 1, -1, -1):
        balance += 1 if told[place][1] else -1
        if balance > best:
            best, since = balance, place
    if since is None:
        return None
    at, before = told[since][0], told[since - 1][0] if since else None
    near = before is not None and at - before <= N["gap_most_h"] * HOUR_MS
    return (at + before) // 2 if near and before is not None else at


def figures(does: dict[str, dict[str, Any]], kiddings: Iterable[Kidding]) -> dict[str, SignFigures]:
    """Of each sign, over all kiddings of which anybody knows when the first kid came."""
    leads: dict[str, list[float]] = {sign: [] for sign in LEADS}
    counts = {sign: [0, 0] for sign in LEADS}
    for one in kiddings:
        looks = looks_of(does[one.doe]) if one.first_at else []
        near = [at for at, *_ in looks if one.first_at - N["looked_h"] * HOUR_MS <= at < one.first_at]
        for sign in LEADS if looks else ():
            since = first_seen(looks, sign, one.first_at)
            if since is not None:
                leads[sign].append(log((one.first_at - since) / HOUR_MS))
            counts[sign][0] += bool(near) and since is not None
            counts[sign][1] += bool(near)
    return {sign: SignFigures(tuple(leads[sign]), *counts[sign]) for sign in LEADS}


def sign_rows(found: dict[str, SignFigures]) -> list[dict[str, Any]]:
    """For the document: minutes before the first kid, assumed, seen here, and what comes of both."""
    return [_row(sign, one) for sign, one in found.items()]


def _row(sign: str, found: SignFigures) -> dict[str, Any]:
    assumed = lead_assumed(sign)
    fitted = bounded_lead(assumed, refitted(assumed, found.leads))
    return {
        "sign": sign,
        "n": fitted.n,
        "assumed_min": minutes_of(assumed.mean),
        "own_min": 0 if fitted.own is None else minutes_of(fitted.own),
        "median_min": minutes_of(fitted.mean),
        "p10_min": minutes_of(fitted.mean - TENTH * fitted.sd),
        "p90_min": minutes_of(fitted.mean + TENTH * fitted.sd),
        "shows_pm": share(LEADS[sign]["shows_pm"], found.seen, found.looked),
        "looked": found.looked,
        "enough": fitted.n >= N["used_from_n"] and LEADS[sign]["median_h"] >= N["timed_from_h"],
    }
