"""Every herd rule is read by something that can be named: the compiler, the evaluator, or a screen."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest

from herd.outlook.days import shift
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import RULES
from herd.outlook.shapes import Limits
from herd.state.fold import fold
from tests.acceptance import test_words_that_fit as words_that_fit
from tests.outlook import test_energy_word as words
from tests.outlook.test_cites import every_doe
from tests.support import flat_doe as flat
from tests.support.generate_cases import cases
from tests.support.log import Log
from tests.support.one_doe import OneDoe, code
from tests.support.outlooks import book, branch, outlook
from tests.support.paths import ROOT

MADE = [case for case in cases(60, 5) if case["outlooks"]]
LIMITS = [*Limits.__annotations__]
# what only a screen goes by, and where it reads it
ON_A_SCREEN = {
    "milk_per_grain_x10": "frontend/src/ui/plans/says.ts",
    "sprout_keep_d": "frontend/src/ui/jars/jars.ts",
    "unattended_h": "frontend/src/ui/sentences/resting.ts",
}


@cache
def evaluated() -> set[str]:
    """By name, all the evaluator reads on made farms and for three does that need what those seldom have."""
    farms = [FarmDay(case["view"], case["outlooks"], case["book"], case["day"]) for case in cases(480, 5)]
    for first_g in (1500, 700):
        changed = fold(words.fed_until(first_g, 1130).events)
        farms.append(FarmDay(changed, {"fern": outlook("fern", words.TODAY)}, book(), words.TODAY))
    many = outlook("fern", flat.TODAY, flat.late(), who={"litter_x100": 300, "mass_g": 60_000})
    into = flat.one_doe(hay_g=700)
    into.add("got_into", "fern", {"feed": "", "g": 500}, flat.TODAY)
    farms.append(FarmDay(fold(into.events), {"fern": many}, book(), flat.TODAY))
    for score, back, appetite_g in ((300, 0, 1500), (225, 0, 1250), (300, 20, 1080)):
        log, near = flat.one_doe(hay_g=1200), outlook("fern", flat.TODAY, flat.late(appetite_g=appetite_g))
        log.score("fern", shift(flat.TODAY, -back), score)
        farms.append(FarmDay(fold(log.events), {"fern": near}, book(), flat.TODAY))
    # late, nobody has scored her, and she is under her floor with all that she would eat before her
    near = outlook("fern", words.TODAY, flat.late(appetite_g=1000))
    farms.append(FarmDay(fold(words.fed_until(1130, 1130).events), {"fern": near}, book(), words.TODAY))
    # three kids, near her time and never scored: at her floor, and far under her whole need
    due = {name: shift(words.TODAY, 20) for name in ("early", "mid", "late", "printed")}
    near = outlook("fern", words.TODAY, flat.late(appetite_g=1170), who={"litter_x100": 300, "mass_g": 60_000}, due=due)
    farms.append(FarmDay(fold(words.fed_until(1300, 1300).events), {"fern": near}, book(), words.TODAY))
    for weighed in (False, True):
        milker = fold(cut_for_a_milker(weighed).events)
        farms.append(FarmDay(milker, {"fern": outlook("fern", flat.TODAY, MILKS)}, book(), flat.TODAY))
    return {name for farm in farms for name in farm.ask("rules_of_results")}


MILKS = {"as_is": branch(milk_g=100, appetite_g=1000)}


def cut_for_a_milker(weighed: bool) -> Log:
    """Three meals of the week were seen eaten up, and less is planned of more than she is thought to eat."""
    log = flat.one_doe(hay_g=2000, own=False)
    base = next(event["hlc"] for event in log.events if event["kind"] == "ration")
    log.ration("p", "morning", "hay", (shift(flat.TODAY, 6), 1400), base=base)
    for back in (1, 2, 3):
        log.intake("p", shift(flat.TODAY, -back), "morning", "ate_all")
        if weighed:
            log.add("milk", "fern", {"g": 900, "fat_x100": 0}, shift(flat.TODAY, -back))
    return log


@cache
def asked_before_saving() -> set[str]:
    """By name, all that is read of a ration before it is saved: another hay, for a doe near kidding."""
    farm = FarmDay(fold(flat.one_doe().events), {"fern": outlook("fern", flat.TODAY, flat.late())}, book(), flat.TODAY)
    change = {"subject": "fern", "feed": "alfalfa", "slots": ["morning"], "steps": [[flat.TODAY, 1600]]}
    return set(farm.ask("rules_of_gate", change))


def test_every_herd_rule_is_read() -> None:
    evaluators = evaluated() | asked_before_saving()
    readers = {"the compiler": every_doe(), "the evaluator": evaluators, "a screen": set(ON_A_SCREEN)}
    read_by = {rule: [who for who, names in readers.items() if rule in names] for rule in RULES}
    print("\n".join(f"{rule:26} {', '.join(who)}" for rule, who in read_by.items()))
    assert [rule for rule, who in read_by.items() if not who] == []


def test_a_screen_reads_what_it_is_said_to() -> None:
    for rule, path in ON_A_SCREEN.items():
        assert f'ruleOf("{rule}"' in (ROOT / path).read_text()


def test_what_the_evaluator_reads_is_a_herd_rule() -> None:
    assert evaluated() <= RULES.keys()


@pytest.mark.parametrize("limit", LIMITS)
def test_every_compiled_limit_decides_something(limit: str) -> None:
    """Grain by meal, day and share, steps, forage: set far down or up, some doe of made farms hears another word."""

    def heard(g: int | None) -> list[Any]:
        return [
            doe["prompt"]
            for case in MADE
            for doe in FarmDay(case["view"], limited(case["outlooks"], limit, g), case["book"], case["day"])
            .ask("results")["does"]
            .values()
        ]

    as_it_is = heard(None)
    assert any(heard(g) != as_it_is for g in (1, 100_000))


def limited(outlooks: dict[str, Any], limit: str, g: int | None) -> dict[str, Any]:
    if g is None:
        return outlooks
    return {doe: {**look, "limits": {**look["limits"], limit: g}} for doe, look in outlooks.items()}


def heard(doe: OneDoe, day: int, **rules: int) -> str:
    farm = doe.farm(day)
    own = FarmDay(farm.view, farm.outlooks, {**farm.book, "rules": {**farm.book["rules"], **rules}}, farm.day)
    return code(own.ask("results")["does"]["doe"])


def test_a_farm_may_set_the_least_forage_and_the_most_grain() -> None:
    """Open and dry on hay and some barley she is within both; by a farm's own rule she is not."""
    doe, grained = words_that_fit.open_doe(1250, 100), words_that_fit.open_doe(1400)
    assert {heard(one, 70) for one in (doe, grained)}.isdisjoint({"forage_low", "grain_share_big"})
    assert heard(doe, 70, forage_least_pm=1500) == "forage_low"
    assert heard(grained, 70, grain_most_pm=500) == "grain_share_big"


def test_a_farm_may_set_calcium_beside_phosphorus() -> None:
    grass = words_that_fit.on_grain_and_straw(grass_hay_general=2100)
    orchard = words_that_fit.on_grain_and_straw(orchardgrass_hay=2100)
    assert heard(grass, 118) == ""
    assert heard(grass, 118, ca_p_high_x100=200) == "ca_p_high"
    assert heard(orchard, 118) == "ca_p_low"
    assert heard(orchard, 118, ca_p_low_x100=100) != "ca_p_low"
