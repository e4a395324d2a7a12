"""What is cited is what ran: by term and branch, with the herd rule in force, and nothing that did not run for her."""

from __future__ import annotations

import random
import threading
from typing import Any

import pytest

from herd.outlook.book import compile_book
from herd.outlook.card.document import compile_card
from herd.outlook.compile import compile_doe, record_of
from herd.outlook.compiling.cites import cited
from herd.outlook.rules import RULES
from herd.science.base.citable import citable
from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.base.record import recording, term
from herd.state.fold import fold
from tests.outlook.test_compile_any_doe import any_doe, any_rules
from tests.support.calls import calls_of
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, bred, folded, fresh, scanned, scored, weighed
from tests.support.log import Log

SEED, HOW_MANY = 20261125, 600
LATE: dict[str, Any] = {"bred": bred(120), "check": scanned(2), "weights": weighed(60)}


def named(f: dict[str, Any], code: str, rules: dict[str, int] | None = None, **state: Any) -> set[str]:
    return in_branch("as_is", f, code, rules, **state)


def in_branch(branch: str, f: dict[str, Any], code: str, rules: dict[str, int] | None = None, **state: Any) -> set[str]:
    return set(cited(compile_doe(folded(f, **state), rules or {}, TODAY, "doe")["cites"], code, branch))


def all_named(f: dict[str, Any], **state: Any) -> set[str]:
    of = compile_doe(folded(f, **state), {}, TODAY, "doe")["cites"]
    return {name for code in {*of["terms"], *of["branches"]["as_is"]} for name in cited(of, code)}


def every_doe() -> set[str]:
    """Names of all that ran for a set of does with every branch, breed, parity and way of weighing among them."""
    dice, ran = random.Random(SEED), set[str]()
    for _ in range(HOW_MANY):
        try:
            found = record_of(any_doe(dice), any_rules(dice), TODAY)
        except (OutOfRange, MissingInput):
            continue
        ran |= {name for terms in found.values() for heard in terms.values() for name in heard}
    return ran


def book_and_card() -> set[str]:
    """Names of all that ran for a farm that grazes, scoops, sprouts, and tests its hay and its water."""
    log = Log()
    log.record("doe", "doe", name="Doe", size="mini")
    log.record("pen", "pen", name="Pen")
    log.add("moved", "doe", {"pen": "pen"}, "2026-11-01")
    tray = {"sprout_of": "barley_grain", "sprout_grain_g": 1000, "sprout_days": 6, "sprout_tray_g": 6000}
    log.record("feed", "tray", name="Tray", like="barley_grain", **tray)
    log.record("feed", "hay", name="Hay", like="orchardgrass_hay", tdn_pct_x10=560)
    log.fed("pen", "2026-11-20", "morning", ("", "hay", 2000))
    printed = {"sulfate": "900", "nitrate": "60", "tds": "1500"}
    values = [{"what": what, "printed": mg_l, "unit": "mg_l"} for what, mg_l in printed.items()]
    log.add("water", "farm", {"place": "well", "drunk_l": 6, "values": values}, "2026-11-19")
    view = fold(log.events)
    with recording() as ran:
        with term("book"):
            book = dict(compile_book(view))
        with term("card"):
            card = compile_card(view, book, "2026-11-21")
    assert card is not None
    assert card["water"]
    return ran["book"] | ran["card"]


def test_every_equation_there_is_runs_for_some_doe_or_for_the_herd() -> None:
    ran = every_doe() | book_and_card()
    assert sorted(name for name in citable() if name.count(".") > 1 and name not in ran) == []


def test_the_record_is_what_the_interpreter_saw() -> None:
    """Every equation cited was called in its term, and every one called in a term is cited, on does of all kinds."""
    dice, seen = random.Random(5), 0
    while seen < 25:
        doe, rules = any_doe(dice), any_rules(dice)
        try:
            ran = record_of(doe, rules, TODAY)
        except (OutOfRange, MissingInput):
            continue
        seen += 1
        told = {(code, name) for terms in ran.values() for code, heard in terms.items() for name in heard}
        assert {pair for pair in told if pair[1].count(".") > 1} == set(calls_of(doe, rules, TODAY))


def test_what_goes_on_the_wire_reads_back_as_what_ran() -> None:
    for state in (LATE, {"kidded": fresh(200), "kiddings": 1, "bred": bred(40)}, {}):
        doe = folded(STANDARD, **state)
        ran, of = record_of(doe, {}, TODAY), compile_doe(doe, {}, TODAY, "doe")["cites"]
        always = ran.pop("")
        codes = {code for terms in (always, *ran.values()) for code in terms if code.startswith(("me.", "ca.", "w"))}
        for branch, terms in ran.items():
            for code in codes - {"me.doubt"}:
                assert set(cited(of, code, branch)) == always.get(code, set()) | terms.get(code, set()), (branch, code)


def test_the_absorption_a_farm_works_with_is_the_one_that_is_cited() -> None:
    made = compile_doe(folded(STANDARD, **LATE), {"calcium_absorption_pm": 300}, TODAY, "doe")["cites"]
    assert made["rules"]["calcium_absorption_pm"] == 300
    for code in ("ca.body", "ca.pregnancy", "ca.milk", "ca.intake"):
        assert "calcium_absorption_pm" in cited(made, code)
        assert not any(name.endswith("ca_absorption") for name in cited(made, code))


@pytest.mark.parametrize(
    ("system", "runs", "rests"),
    [(0, "maintenance_luo2004", "maintenance_gfe2003"), (1, "maintenance_gfe2003", "maintenance_luo2004")],
)
def test_the_maintenance_system_chosen_is_cited_and_the_other_not(system: int, runs: str, rests: str) -> None:
    found = named(STANDARD, "me.maintenance", {"maintenance_system": system}, **LATE)
    assert f"needs.maintenance.{runs}" in found
    assert f"needs.maintenance.{rests}" not in found
    assert "maintenance_system" in found


def test_a_growing_doeling_cites_growth_and_a_grown_doe_none() -> None:
    young = {"bred": bred(120), "weights": weighed(25, 3)}
    assert "needs.maintenance.maintenance_growing" in named(DOELING, "me.maintenance", **young)
    assert "body.growth.gain_energy" in named(DOELING, "me.growth", **young)
    assert "needs.calcium.calcium_growth" in named(DOELING, "ca.body", **young)
    grown = all_named(MINI, bred=bred(120), weights=weighed(33))
    assert not any("grow" in name and "gfe" not in name for name in grown - {"body.growth.is_grown"})


def test_an_open_doe_cites_no_pregnancy() -> None:
    found = all_named(STANDARD, weights=weighed(60), scores=scored(300))
    assert [name for name in found if "pregnan" in name or name.startswith(("dates.gestation", "gestation."))] == []


def test_a_dry_doe_cites_no_milk_of_hers_and_the_branch_in_which_she_has_kidded_does() -> None:
    milk = "intake.appetite.appetite_milk_base"
    assert milk not in named(STANDARD, "appetite", **LATE)
    assert milk in in_branch("kidded2", STANDARD, "appetite", **LATE)
    assert in_branch("kidded2", STANDARD, "me.pregnancy", **LATE) == set()


@pytest.mark.parametrize(
    ("keeper", "rules"), [("even", set()), ("easy", {"keeper_easy_pm"}), ("hard", {"keeper_hard_pm"})]
)
def test_a_keeper_factor_is_cited_for_the_doe_who_has_it(keeper: str, rules: set[str]) -> None:
    found = named({**STANDARD, "keeper": keeper}, "me.maintenance", **LATE)
    assert {name for name in found if name.startswith("keeper_")} == rules


def test_an_answer_from_memory_cites_the_same() -> None:
    doe = folded(STANDARD, **{**LATE, "bred": bred(120, 30)})
    first, again = (compile_doe(doe, {}, TODAY, "doe")["cites"] for _ in range(2))
    assert first == again
    assert "dates.gestation.due_cdf" in cited(first, "due")


def test_nobody_hears_what_another_thread_compiles() -> None:
    with recording() as ran, term("mine"):
        other = threading.Thread(target=lambda: compile_doe(folded(STANDARD, **LATE), {}, TODAY, "doe"))
        other.start()
        other.join()
    assert ran == {"mine": set()}


def test_withheld_amounts_cite_nothing() -> None:
    made = compile_doe(folded(STANDARD, weights=weighed(300)), {}, TODAY, "doe")
    assert made["withheld"]
    assert made["cites"] == {"of": "", "rules": {}, "terms": {}, "branches": {}}


def test_every_rule_that_ran_has_a_default_beside_it() -> None:
    made = compile_doe(folded(STANDARD, **LATE), {}, TODAY, "doe")["cites"]
    assert made["rules"]
    assert made["rules"] == {name: RULES[name].default for name in made["rules"]}
