"""Pregnancy toxemia: which doe to look at first in the last six weeks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..validity import check
from .factors import Factor, P, Risk, outside, points, weighed
from .readings import ketone_band, urine_band

URINE_POINTS = {"repeat": "tox_ketone_watch", "subclinical": "tox_ketone_subclinical", "vet": "tox_ketone_clinical"}
BLOOD_POINTS = {
    "ok": "tox_ketone_clear",
    "watch": "tox_ketone_watch",
    "subclinical": "tox_ketone_subclinical",
    "clinical": "tox_ketone_clinical",
    "emergency": "tox_ketone_clinical",
}


@dataclass(frozen=True)
class ToxemiaFacts:
    """What is known of her today; None for what nobody has looked at."""

    days_to_kidding: float
    litter: float
    counted: bool = False
    score: float | None = None
    energy_share: float | None = None
    refused: bool = False
    slow: bool = False
    upset: bool = False
    sick: bool = False
    previous: bool = False
    down: bool = False
    bhb_mmol_l: float | None = None
    urine: str | None = None


def toxemia_risk(facts: ToxemiaFacts) -> Risk:
    """Risk of pregnancy toxemia: points on documented factors, overruled by any sign.

    Equation: sum of points; alert from 3, urgent from 5; off feed, down or ketones from 1.6 is urgent by itself

    Parameters
    ----------
    facts : what is known of her today: days to kidding [d, -30 to 200], litter [kids, 1 to 6], score [points, 1 to 5],
        energy supply as a share of need [ratio, 0 to 5], blood ketones [mmol/L, 0 to 12], urine strip as in readings

    Returns
    -------
    Risk; "outside" earlier than six weeks before kidding

    Raises
    ------
    OutOfRange : a figure outside its range

    Validity
    --------
    Not validated. Directions from Dore 2015, Lima 2016, Murugeswari 2023 and extension text; the points are judgement.

    References
    ----------
    dore2015; lima2016; murugeswari2023; vijayanand2022; goat_extension_toxemia; merck_toxemia; judgement
    """
    check(days_to_kidding=facts.days_to_kidding, litter=facts.litter)
    called = facts.refused or facts.down or _reading_calls(facts)
    if facts.days_to_kidding > P["tox_window_d"] and not called:
        return outside()
    return weighed([*_doe(facts), *_feed(facts), *_ketones(facts)], tuple(_unknown(facts)), called)


def _reading_calls(facts: ToxemiaFacts) -> bool:
    blood = facts.bhb_mmol_l is not None and ketone_band(facts.bhb_mmol_l) in ("clinical", "emergency")
    return blood or (facts.urine is not None and urine_band(facts.urine, facts.refused or facts.sick) == "vet")


def _doe(facts: ToxemiaFacts) -> Iterator[Factor]:
    if facts.days_to_kidding <= P["tox_last_d"]:
        yield Factor("last_month", points("tox_last_month"))
    if facts.litter >= P["triplets_from"]:
        yield Factor("triplets", points("tox_triplets"))
    elif facts.litter >= P["twins_from"]:
        yield Factor("twins", points("tox_twins"))
    if facts.previous:
        yield Factor("had_it_before", points("tox_previous"))
    if facts.score is not None:
        check(score=facts.score)
        if facts.score >= P["tox_fat_from"]:
            yield Factor("fat", points("tox_fat"))
        if facts.score <= P["tox_thin_to"]:
            yield Factor("thin", points("tox_thin"))


def _feed(facts: ToxemiaFacts) -> Iterator[Factor]:
    if facts.energy_share is not None:
        check(supply_share=facts.energy_share)
        if facts.energy_share < P["tox_very_short_share"]:
            yield Factor("energy_well_short", points("tox_very_short"), today=True)
        elif facts.energy_share < P["tox_short_share"]:
            yield Factor("energy_short", points("tox_short"), today=True)
    # Off feed is answered by a look and the vet, not by the keeper offering more: nothing to change today.
    if facts.refused:
        yield Factor("off_feed", points("tox_refused"))
    elif facts.slow:
        yield Factor("slow_to_feed", points("tox_slow"), today=True)
    if facts.upset:
        yield Factor("upset", points("tox_upset"), today=True)
    if facts.sick:
        yield Factor("sick", points("tox_sick"), today=True)


def _ketones(facts: ToxemiaFacts) -> Iterator[Factor]:
    """Blood speaks before urine."""
    if facts.bhb_mmol_l is not None:
        band = ketone_band(facts.bhb_mmol_l)
        yield Factor(f"blood_ketones_{band}", points(BLOOD_POINTS[band]))
    elif facts.urine is not None:
        band = urine_band(facts.urine)
        if band in URINE_POINTS:
            yield Factor(f"urine_ketones_{band}", points(URINE_POINTS[band]))


def _unknown(facts: ToxemiaFacts) -> Iterator[str]:
    if facts.bhb_mmol_l is None and facts.urine is None:
        yield "ketones"
    if not facts.counted:
        yield "litter"
    if facts.score is None:
        yield "score"
    if facts.energy_share is None:
        yield "energy"
