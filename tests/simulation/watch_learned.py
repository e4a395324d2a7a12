"""A farm that learns: from so many kiddings watched, the timings and the length of gestation the next ones go by.

What it learns is what the nightly reading makes of its log: `herd/outlook/years`, its shrinking, its bounds.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from typing import Any

from herd.outlook.learned import learned_of
from herd.outlook.years.leads import HOUR_MS, SignFigures, first_seen, sign_rows
from herd.outlook.years.lengths import length_rows

from .watch import DAY_H, JUDGED, Goes, Rounds, herd, watched
from .watch_truth import LENGTH_D, SIGNS, Kidding

LIMIT_H = 2.0
LOOKED_H = 48


def learned_from(does: Sequence[Kidding], rounds: Sequence[Rounds]) -> Goes:
    """After those kiddings; the judged figures where there were too few."""
    found = {sign: _figures(sign, does, rounds) for sign in SIGNS}
    years: dict[str, Any] = {
        "signs": sign_rows(found),
        "lengths": length_rows({"standard": [float(doe.kid_h // DAY_H) for doe in does]}),
    }
    known = learned_of(years)
    mean_d, sd_d = known.length("standard") or (JUDGED.mean_d, JUDGED.sd_d)
    return Goes(known.leads, mean_d, sd_d)


def _figures(sign: str, does: Sequence[Kidding], rounds: Sequence[Rounds]) -> SignFigures:
    leads, looked = [], 0
    for doe, one in zip(does, rounds, strict=True):
        kid_ms = round(doe.kid_h * HOUR_MS)
        looks = [(round(at_h * HOUR_MS), frozenset(seen), frozenset(set(SIGNS) - set(seen))) for at_h, seen in one.rows]
        since = first_seen(looks, sign, kid_ms)
        near = any(kid_ms - LOOKED_H * HOUR_MS <= at < kid_ms for at, *_ in looks)
        looked += near
        if since is not None:
            leads.append(log((kid_ms - since) / HOUR_MS))
    return SignFigures(tuple(leads), min(len(leads), looked), looked)


def farm_after(seed: int, seen: int, then: int, kind: int, length_d: float = LENGTH_D) -> tuple[Goes, list[Kidding]]:
    """What a farm of one kind goes by after `seen` kiddings, and the `then` that come next."""
    all_of_them = list(herd(seed, seen + then, kind, length_d))
    first = all_of_them[:seen]
    return learned_from(first, [watched(doe, LIMIT_H) for doe in first]), all_of_them[seen:]
