"""On which day she settled: service, buck, his mark, a heat that came back and a scan, put together."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import exp

from ..base.record import equation, remembered
from ..base.validity import check
from ..parameters import values
from .exposure import conception_weights, settling_chance

P = values("gestation")
# A day less likely than that moves no date.
LEAST = 1e-6
SCAN_REACH = 3
Chance = tuple[int, float, float]


@dataclass(frozen=True)
class Evidence:
    """What is known of one pregnancy, each day counted from the same one.

    exposures: (first, last, seen): days with the buck, or days on one of which somebody saw her served
    marks: days of the buck's mark; heats: (day, standing); scans: (day, days along)
    """

    exposures: tuple[tuple[int, int, bool], ...]
    marks: tuple[int, ...] = ()
    heats: tuple[tuple[int, bool], ...] = ()
    scans: tuple[tuple[int, int], ...] = ()


@equation
@remembered(1024)
def conception_chances(known: Evidence) -> tuple[Chance, ...]:
    """Chance that she settled on each day, given that she did, with what that day's own doubt adds.

    Each day's chance by the buck's presence or a service; less where she was in heat again or served again later, and
    close to a service that was seen; times the normal likelihood of each scan.

    Parameters
    ----------
    known : services, marks, heats and scans, one exposure at least

    Returns
    -------
    (day, chance [ratio], added to the standard deviation [d]) in order of days, chances adding to 1

    Raises
    ------
    OutOfRange : window_d of an exposure outside its range

    Validity
    --------
    Cycling does in season; weights of heats are judgement. A scan far from every service is believed, as one nobody
    recorded.

    References
    ----------
    judgement; merck_estrus for the cycle and for heat in a pregnant doe
    """
    seen = _seen(known)
    found = [(day, chance * _by_heats(day, known, seen), 0.0) for day, chance in _with_buck(known, seen)]
    found += [(day, chance * _by_heats(day, known, seen), wider) for day, chance, wider in _witnessed(known, seen)]
    found += [(day, chance, 0.0) for day, chance in _elsewhere(known)]
    weighed = [(day, chance * _by_scans(day, known), wider) for day, chance, wider in found]
    whole = sum(chance for _, chance, _ in weighed)
    kept = [(day, chance / whole, wider) for day, chance, wider in weighed if chance / whole > LEAST]
    left = sum(chance for _, chance, _ in kept)
    return tuple(sorted((day, chance / left, wider) for day, chance, wider in kept))


@equation
def own_gestation(mean_d: float, past_d: tuple[float, ...]) -> float:
    """Mean gestation drawn toward her own, once enough of hers are recorded.

    Equation: mean + 0.25 x (her own mean - mean) from three on

    Parameters
    ----------
    mean_d : scalar [d], by breed and litter
    past_d : [d] of each gestation of hers with a known service

    Returns
    -------
    scalar [d]

    References
    ----------
    judgement
    """
    if len(past_d) < P["own_least"]:
        return mean_d
    return mean_d + P["own_weight"] * (sum(past_d) / len(past_d) - mean_d)


@equation
def scan_sd(aged_d: int) -> float:
    """Standard deviation [d] of a date from a scan, by how many days along it put her.

    References
    ----------
    judgement
    """
    late, middle = aged_d >= P["scan_late_from_d"], aged_d >= P["scan_middle_from_d"]
    return P["scan_late_sd_d"] if late else P["scan_middle_sd_d"] if middle else P["scan_early_sd_d"]


def _seen(known: Evidence) -> dict[int, float]:
    """Days on which somebody saw her served, or the buck had marked her, with what that adds to the doubt."""
    marked = dict.fromkeys(known.marks, P["mark_sd_d"])
    return marked | {first: 0.0 for first, last, _ in known.exposures if first == last}


def _with_buck(known: Evidence, seen: dict[int, float]) -> Iterator[tuple[int, float]]:
    for first, last, witnessed in known.exposures:
        window_d = last - first + 1
        check(window_d=window_d)
        if window_d == 1:
            continue
        all_of_it = P["conception"] if witnessed else settling_chance(window_d)
        for step, chance in enumerate(conception_weights(window_d)):
            if first + step not in seen:
                yield first + step, chance * all_of_it


def _witnessed(known: Evidence, seen: dict[int, float]) -> Iterator[Chance]:
    for day, wider in seen.items():
        of_one_heat = sum(abs(other - day) < P["heats_apart_d"] for other in seen)
        yield day, P["conception"] / of_one_heat, wider


def _by_heats(day: int, known: Evidence, seen: dict[int, float]) -> float:
    """How much less likely a day is for what was seen on others."""
    apart, standing = P["heats_apart_d"], P["settled_standing"]
    factor = 1.0
    again = [first for first, last, _ in known.exposures if first != last and first >= day + apart]
    if again or any(other >= day + apart for other in seen):
        factor *= standing
    for heat, stood in known.heats:
        if P["return_from_d"] <= heat - day <= P["return_to_d"]:
            factor *= standing if stood else P["settled_flagging"]
    if day not in seen and any(abs(other - day) < apart for other in seen):
        factor *= P["unseen_heat"]
    if any(other <= day - apart for other in seen):
        factor *= 1 - P["conception"]
    return factor


def _by_scans(day: int, known: Evidence) -> float:
    off = [(day - (on - aged_d)) / scan_sd(aged_d) for on, aged_d in known.scans]
    return exp(-sum(z * z for z in off) / 2)


def _elsewhere(known: Evidence) -> Iterator[tuple[int, float]]:
    """Days nobody recorded, about where the last scan puts her."""
    for on, aged_d in known.scans[-1:]:
        reach = round(SCAN_REACH * scan_sd(aged_d))
        for step in range(-reach, reach + 1):
            yield on - aged_d + step, P["elsewhere"] / (2 * reach + 1)
