"""Milk fever: which doe to look at first from six weeks before kidding to ten weeks after."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from ..validity import check
from .factors import Factor, P, Risk, outside, points, weighed


@dataclass(frozen=True)
class MilkFeverFacts:
    """What is known of her today; None for what nobody has looked at.

    One of gestation_day (carrying) and days_in_milk (kidded) is given.
    """

    litter: float
    kidding: int
    gestation_day: float | None = None
    days_to_kidding: float | None = None
    days_in_milk: float | None = None
    counted: bool = False
    previous: bool = False
    milk_kg: float | None = None
    ca_share: float | None = None
    k_g_kg: float | None = None
    mg_g_kg: float | None = None
    upset: bool = False
    toxemia_signs: bool = False
    signs: bool = False


def milk_fever_risk(facts: MilkFeverFacts) -> Risk:
    """Risk of milk fever: points on documented factors, overruled by any sign.

    Equation: sum of points; alert from 3, urgent from 5; wobbly, cold-eared or down is urgent by itself

    Parameters
    ----------
    facts : what is known of her today: litter [kids, 1 to 6], kidding [1, her how-manieth], gestation day [d, 0 to
        165], days to kidding [d], days in milk [d, 0 to 800], expected milk [kg/d, 0 to 12], calcium supply as a share
        of need [ratio, 0 to 5], potassium and magnesium of the diet [g/kg DM]

    Returns
    -------
    Risk; "outside" before day 108 of gestation and after 70 days in milk

    Raises
    ------
    OutOfRange : a figure outside its range

    Validity
    --------
    Not validated. Sources disagree whether goats fall ill before or after kidding and whether lucerne helps or harms.

    References
    ----------
    merck_milk_fever; pvamu_milk_fever; wilkens_goats; abga_vet_note; judgement
    """
    check(litter=facts.litter)
    called = facts.signs or facts.toxemia_signs
    if not _in_window(facts) and not called:
        return outside()
    return weighed([*_doe(facts), *_diet(facts)], tuple(_unknown(facts)), facts.signs)


def _in_window(facts: MilkFeverFacts) -> bool:
    if facts.days_in_milk is not None:
        check(days_in_milk=facts.days_in_milk)
        return facts.days_in_milk <= P["mf_until_milk_d"]
    if facts.gestation_day is None:
        return False
    check(gestation_day=facts.gestation_day)
    return facts.gestation_day >= P["mf_from_gest_d"]


def _doe(facts: MilkFeverFacts) -> Iterator[Factor]:
    if facts.litter >= P["triplets_from"]:
        yield Factor("triplets", points("mf_triplets"))
    elif facts.litter >= P["twins_from"]:
        yield Factor("twins", points("mf_twins"))
    if facts.kidding >= P["mf_older_from"]:
        yield Factor("older", points("mf_older"))
    if facts.previous:
        yield Factor("had_it_before", points("mf_previous"))
    if facts.milk_kg is not None:
        check(milk_kg=facts.milk_kg)
        if facts.milk_kg > P["mf_yield_kg"]:
            yield Factor("heavy_milk", points("mf_yield"))
    if facts.upset:
        yield Factor("upset", points("mf_upset"), today=True)
    if facts.toxemia_signs:
        yield Factor("toxemia_signs", points("mf_toxemia_signs"))


def _diet(facts: MilkFeverFacts) -> Iterator[Factor]:
    if facts.ca_share is not None:
        check(supply_share=facts.ca_share)
        if facts.ca_share < P["mf_ca_short_share"]:
            yield Factor("calcium_short", points("mf_ca_short"), today=True)
        elif _much_of_both(facts):
            yield Factor("much_calcium_and_potassium", points("mf_ca_over"), today=True)
    if facts.mg_g_kg is not None and facts.mg_g_kg < P["mf_mg_low_g_kg"]:
        yield Factor("magnesium_low", points("mf_mg_low"), today=True)


def _much_of_both(facts: MilkFeverFacts) -> bool:
    late = facts.days_to_kidding is not None and facts.days_to_kidding <= P["mf_ca_over_last_d"]
    high_k = facts.k_g_kg is not None and facts.k_g_kg > P["mf_k_high_g_kg"]
    return late and high_k and facts.ca_share is not None and facts.ca_share > P["mf_ca_over_share"]


def _unknown(facts: MilkFeverFacts) -> Iterator[str]:
    known = (
        ("calcium", facts.ca_share),
        ("litter", facts.counted or facts.days_in_milk is not None or None),
        ("magnesium", facts.mg_g_kg),
    )
    for code, value in known:
        if value is None:
            yield code
