"""The watch near kidding on simulated kiddings: are the chances right, and do our looks find labour in time?

The tables are those a phone weighs by, here along half hours; `test_watch.py` holds the gaps equal to a phone's.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache

import numpy as np
from numpy.typing import NDArray

from herd.outlook.compiling.due import day_chances_of
from herd.outlook.compiling.signs import Leads, sign_tables
from herd.outlook.tables import NUMBERS
from herd.science.dates.gestation import due_quantile, gestation_prior

from .watch_truth import LENGTH_D, SIGNS, Kidding, kidding

STEP_H, DAY_H = 0.5, 24
HOURS = (12, 24, 48)
Line = NDArray[np.float64]
MEAN_D, SD_D = gestation_prior("saanen", 1.85)
EARLY = 0.02
ONE_SERVICE = ((0, 1.0, 0.0),)
GAPS_H: dict[str, int] = NUMBERS["look_again_h"]["value"]
PUSHING_H = NUMBERS["labour_before_min"]["value"] / 60
SHARE = NUMBERS["unattended_share_pm"]["value"] / 1000
CLOSE = ("pawing", "mucus_amber")
EASED_H: float = NUMBERS["eased_h"]["value"]


@dataclass(frozen=True)
class Known:
    """What is known of a sign: how it was found, when, and the gap before it."""

    how: str
    at_h: float
    gap_h: int = 0


@dataclass(frozen=True)
class Goes:
    """What the watch goes by: a farm's own timings of signs, and its own length of gestation; else the judged ones."""

    leads: Leads = ()
    mean_d: float = MEAN_D
    sd_d: float = SD_D


JUDGED = Goes()


@dataclass
class Rounds:
    """One doe watched to her kidding: how often, how long labour had gone on, and what was said at each look."""

    looks: int = 0
    alone_h: float = 0.0
    said: list[tuple[float, Line, Line]] = field(default_factory=list)
    rows: list[tuple[float, list[str]]] = field(default_factory=list)


@cache
def dates(by: Goes = JUDGED) -> tuple[int, Line]:
    """The first hour she may kid in, and the chance that she has kidded by each half hour from it."""
    skipped, ppm = day_chances_of(ONE_SERVICE, by.mean_d, by.sd_d)
    come = np.concatenate([[0.0], np.cumsum(ppm)])
    at = np.arange(0, DAY_H * len(ppm) + STEP_H, STEP_H)
    return DAY_H * skipped, np.interp(at / DAY_H, np.arange(len(come)), come)


@cache
def told(sign: str, how: str, gap_h: int, goes: Goes = JUDGED) -> Line:
    """Log of a finding by half hours to the first kid."""
    tables = sign_tables(goes.leads)
    row = tables["of"][sign]
    line = {
        "present": row["present"],
        "absent": row["absent"],
        "new": row["new"][tables["gaps_h"].index(gap_h)] if gap_h else [],
    }[how]
    leads = 60 * STEP_H * (np.arange(4000) + 0.5)
    return np.asarray(np.interp(leads, tables["lead_min"], line) / 1000)


def ahead(at_h: float, known: dict[str, Known], goes: Goes = JUDGED) -> Line | None:
    """Chance that the first kid has come by each half hour from now; None past all her dates."""
    first_h, by = dates(goes)
    start = max(0, round((at_h - first_h) / STEP_H))
    prior = np.diff(by[start:])
    if prior.sum() < NUMBERS["near_least_ppm"]["value"]:
        return None
    logs = np.zeros(len(prior))
    wait = max(0, round((first_h - at_h) / STEP_H))
    for sign, one in known.items():
        past = round((at_h - one.at_h) / STEP_H) + wait
        logs += told(sign, one.how, one.gap_h, goes)[past : past + len(prior)]
    weighed = prior * np.exp(logs - logs.max())
    return np.concatenate([np.zeros(wait + 1), np.cumsum(weighed) / weighed.sum()])


def within(hours: float, by: Line) -> float:
    return float(np.interp(hours / STEP_H, np.arange(len(by)), by)) if hours > 0 else 0.0


def our_gap(
    at_h: float,
    known: dict[str, Known],
    unattended_h: float,
    share: float = SHARE,
    goes: Goes = JUDGED,
    close_h: float = -EASED_H,
) -> float:
    """As `frontend/src/core/outlook/kidding/watch.ts` has it. `close_h`: when a sign of those was last found."""
    seen = [sign for sign, one in known.items() if one.how != "absent"]
    some = seen or at_h - close_h < EASED_H
    most = GAPS_H["close" if any(sign in CLOSE for sign in seen) else "signs" if some else "quiet"]
    by = ahead(at_h, known, goes)
    if by is None:
        return most
    soon = within(PUSHING_H, by)
    for gap in np.arange(most, GAPS_H["close"], -STEP_H):
        if within(gap - unattended_h + PUSHING_H, by) - soon <= share:
            return float(gap)
    return min(most, GAPS_H["close"])


def learned(known: dict[str, Known], found: list[str], at_h: float) -> dict[str, Known]:
    """What is known after a look at which each sign was looked for."""
    return {sign: _learned(known.get(sign), sign in found, at_h) for sign in SIGNS}


def _learned(before: Known | None, seen: bool, at_h: float) -> Known:
    if not seen:
        return Known("absent", at_h)
    if before is None:
        return Known("present", at_h)
    if before.how != "absent":
        return before
    gap = next((hours for hours in sign_tables()["gaps_h"] if at_h - before.at_h <= hours), None)
    return Known("present", at_h) if gap is None else Known("new", at_h, gap)


def closest_h(rows: list[tuple[float, list[str]]]) -> float:
    """When a sign of those close to the kid was last found."""
    return max((at_h for at_h, seen in rows if set(seen) & set(CLOSE)), default=-EASED_H)


def begin_h() -> float:
    """Eight in the morning of the day her watch begins."""
    return DAY_H * int(due_quantile(EARLY, ONE_SERVICE, MEAN_D, SD_D)) + 8.0


def watched(doe: Kidding, unattended_h: float, share: float = SHARE, goes: Goes = JUDGED) -> Rounds:
    """Looks by our rule until somebody comes upon labour."""
    rounds, known, at_h = Rounds(), dict[str, Known](), begin_h()
    while at_h < doe.labour_h:
        rounds.looks += 1
        rounds.rows.append((at_h, doe.look(at_h)))
        known = learned(known, rounds.rows[-1][1], at_h)
        by, plain = ahead(at_h, known, goes), ahead(at_h, {}, goes)
        if by is not None and plain is not None:
            rounds.said.append(
                (doe.kid_h - at_h, *(np.array([within(h, line) for h in HOURS]) for line in (by, plain)))
            )
        at_h += our_gap(at_h, known, unattended_h, share, goes, closest_h(rounds.rows))
    rounds.alone_h = at_h - doe.labour_h
    return rounds


def in_rounds(doe: Kidding, every_h: float) -> Rounds:
    """Looks at fixed hours, the first at no hour in particular."""
    first = begin_h() + doe.first * every_h
    looks = max(0, int((doe.labour_h - first) // every_h) + 1)
    return Rounds(looks, first + looks * every_h - doe.labour_h)


def herd(seed: int, does: int, kind: int | None = None, length_d: float = LENGTH_D) -> Iterator[Kidding]:
    """Kiddings that come after their watch has begun; the others nobody's looks can find."""
    made = (kidding(seed * 1_000_000 + n, kind, length_d) for n in range(2 * does))
    for _, doe in zip(range(does), (doe for doe in made if doe.labour_h > begin_h()), strict=False):
        yield doe
