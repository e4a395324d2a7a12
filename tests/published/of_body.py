"""The doe herself: appetite, condition, weight from a tape, gestation, and what a forage test says."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import product
from statistics import NormalDist
from typing import Any

import numpy as np

from herd.science.body.condition import condition_change, regain_energy, unit_weight
from herd.science.body.litter import litter_prior
from herd.science.dates.gestation import due_cdf, due_quantile, gestation_prior
from herd.science.feeds.composition import me_from_tdn
from herd.science.intake.appetite import appetite_carrying, appetite_milk, late_appetite_share
from herd.science.needs.lactation import fat_corrected_milk
from herd.science.parameters import topic
from tests.published.comparisons.forage_tests import (
    digestible_dm_nfta,
    me_from_tdn_nrc1981,
    relative_feed_value_nfta,
    tdn_legume_bath1989,
    tdn_legume_california,
    tdn_legume_oklahoma,
)
from tests.published.comparisons.score_scales import nine_point_score
from tests.published.comparisons.tapes import (
    weight_from_girth,
    weight_from_tape_nakanishi2017,
    weight_from_tape_rule300,
)
from tests.support.exposed import exposed

CM_PER_IN = 2.54
LB_PER_KG = 2.20462262
STEP = 0.25
TERM_D = 150


def _appetite(bw_kg: float, days_to_kidding: float, kids: int) -> Any:
    eats_kg = appetite_carrying(bw_kg, TERM_D - days_to_kidding, TERM_D)
    return eats_kg * late_appetite_share(days_to_kidding, kids)


def _step_chances(true: float, sd: float) -> dict[int, float]:
    """Chance of each quarter step around the middle one, for a scorer with a normal error."""
    error = NormalDist(true, sd)
    return {step: error.cdf((step + 0.5) * STEP) - error.cdf((step - 0.5) * STEP) for step in range(-4, 5)}


def _three_scorers(what: str) -> float:
    """Share (%) of goats, or of scores, when three trained scorers judge goats of any condition between two steps."""
    found = {"all": 0.0, "two": 0.0, "none": 0.0, "at_median": 0.0, "off_one": 0.0, "off_two": 0.0}
    places = np.linspace(-STEP / 2, STEP / 2, 41)
    for true in places:
        chances = _step_chances(float(true), topic("condition")["scorer_sd"].low)
        for trio in product(chances, repeat=3):
            chance = chances[trio[0]] * chances[trio[1]] * chances[trio[2]] / len(places)
            found[("all", "two", "none")[len(set(trio)) - 1]] += chance
            for score in trio:
                off = abs(score - sorted(trio)[1])
                if off < 3:
                    found[("at_median", "off_one", "off_two")[off]] += chance / 3
    return 100 * found[what]


def _tape(girth_in: float, length_in: float) -> float:
    return weight_from_tape_rule300(girth_in * CM_PER_IN, length_in * CM_PER_IN) * LB_PER_KG


def _hazard(mean: float, sd: float, day: float) -> float:
    before, after = (due_cdf(day + step, exposed(1), mean, sd) for step in (0, 1))
    return (after - before) / (1 - before)


def _remaining(mean: float, sd: float, not_kidded_at: float, percentile: float) -> float:
    before = due_cdf(not_kidded_at, exposed(1), mean, sd)
    return due_quantile(before + percentile / 100 * (1 - before), exposed(1), mean, sd) - not_kidded_at


def _within(mean: float, sd: float, low: float, high: float) -> float:
    return due_cdf(high, exposed(1), mean, sd) - due_cdf(low, exposed(1), mean, sd)


BODY: Mapping[str, Any] = {
    "dry_intake": _appetite,
    "intake_per_kg_milk": lambda fat_pct: appetite_milk(fat_corrected_milk(1, fat_pct)),
    "me_per_condition_unit": lambda bw_kg: regain_energy(bw_kg) / 1000,
    "kg_per_condition_unit": lambda bw_kg: unit_weight(bw_kg),
    "condition_change": lambda bw_kg, balance_mj: condition_change(1000 * balance_mj, bw_kg),
    "nine_point_score": lambda score: nine_point_score(score),
    "three_scorers": _three_scorers,
    "tape_weight_lb": _tape,
    "tape_weight_kg": lambda girth_cm, length_cm: weight_from_tape_rule300(girth_cm, length_cm),
    "tape_saanen_kg": lambda girth_cm, length_cm: weight_from_tape_nakanishi2017(girth_cm, length_cm),
    "girth_only_lb": lambda girth_in: weight_from_girth(girth_in * CM_PER_IN) * LB_PER_KG,
    "gestation_mean": lambda breed, kids: gestation_prior(breed, kids)[0],
    "gestation_within": _within,
    "kidding_hazard": _hazard,
    "remaining_days": _remaining,
    "due_after": lambda percentile, window_d, mean, sd: due_quantile(percentile / 100, exposed(window_d), mean, sd),
    "litter_prior": lambda size, breed, kidding: litter_prior(size, breed, kidding),
    "ddm": lambda adf_pct: digestible_dm_nfta(adf_pct),
    "rfv": lambda adf_pct, ndf_pct: relative_feed_value_nfta(adf_pct, ndf_pct),
    "tdn_oklahoma": lambda adf_pct: tdn_legume_oklahoma(adf_pct),
    "tdn_california": lambda adf_pct: tdn_legume_california(adf_pct),
    "tdn_bath1989": lambda adf_pct: tdn_legume_bath1989(adf_pct),
    "me_from_tdn_mj": lambda tdn_pct: me_from_tdn(tdn_pct) / 1000,
    "me_from_tdn_nrc1981": lambda tdn_pct: me_from_tdn_nrc1981(tdn_pct) / 1000,
}
