"""One doe's outlook from her recorded state: the only way from state to numbers.

It depends on her own state, the herd rules, the day and the science version; never on feedings, pens or a clock.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from herd.science import VERSION
from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.base.record import Heard, Ran, recording

from .compiling import figures
from .compiling.branches import MOST_KIDS, branches, season, steps
from .compiling.cites import NO_CITES, cites
from .compiling.dates import day, iso
from .compiling.facts import Facts, facts_of, service_of
from .compiling.milk import longest_d
from .compiling.risk import NO_RISK, peak_g, risk
from .learned import NOTHING, Learned
from .rules import rules_of
from .shapes import Outlook, Withheld

SCHEMA = 1
SCIENCE = VERSION
# What was said of her a fortnight ago stood on two weeks before that.
BEFORE_D = 28
DAYS = 74
FRESH_DAYS = 60
PER_UNIT = 1000


def compile_doe(
    doe_view: Mapping[str, Any], rules: Mapping[str, Any], today: date | str, doe_id: str, learned: Learned = NOTHING
) -> Outlook:
    """Outlook of one doe for the days -28 to +45 around today.

    Parameters
    ----------
    doe_view : one doe of the folded view
    rules : the farm's own herd rules, over our defaults
    today : farm-local date
    doe_id : her id
    learned : what the farm's own kiddings have taught of how long they carry

    Returns
    -------
    Outlook. Where a recorded value lies outside what the science covers, "withheld" says which and why, and there
    are no branches: a phone then gives no amounts. A buck has none either.
    """
    now, chosen = day(today), Heard(rules_of(dict(rules)))
    if doe_view["f"].get("sex") == "buck":
        return _blank(doe_view, now, doe_id, _withheld("buck", "sex", 0, 0, 0))
    try:
        made, ran = _worked(doe_view, chosen, now, doe_id, learned)
        return {**made, "cites": cites(ran, chosen)}
    except OutOfRange as error:
        made = _blank(doe_view, now, doe_id, _out_of_range(error))
        # so long past due: her dates and the watch hold all the same
        past = error.name == "gestation_day"
        return {**made, "due": figures.due(service_of(doe_view, chosen, now, learned)) if past else None}
    except MissingInput as error:
        return _blank(doe_view, now, doe_id, _withheld("missing", error.name, 0, 0, 0))


def record_of(doe_view: Mapping[str, Any], rules: Mapping[str, Any], today: date | str) -> dict[str, Ran]:
    """All that runs while she is compiled, by branch; under "" what holds whichever branch does.

    Raises OutOfRange or MissingInput where there is no outlook.
    """
    return _worked(doe_view, Heard(rules_of(dict(rules))), day(today), "")[1]


def _worked(
    doe: Mapping[str, Any], rules: Mapping[str, int], today: int, doe_id: str, learned: Learned = NOTHING
) -> tuple[Outlook, dict[str, Ran]]:
    with recording() as ran:
        facts = facts_of(doe, rules, today, learned)
        made = _shell(doe, facts.today, doe_id, facts.mass.event)
        made["drivers"] = figures.drivers(facts, rules)
        made["limits"] = figures.limits(facts, rules)
        made["branches"], by_branch = branches(facts, facts.today - BEFORE_D, (DAYS, FRESH_DAYS), rules)
        made["risk"] = risk(doe, facts, peak_g(_next_milk(facts, made)))
    made["who"] = figures.who(facts)
    made["due"] = figures.due(facts.service)
    made["assumed"] = assumed(facts)
    made["season"] = season(facts, rules)
    made["steps"] = steps(facts, rules)
    return made, {"": ran, **by_branch}


def _next_milk(facts: Facts, made: Outlook) -> list[int]:
    """Milk to expect after she kids, by the litter she most likely carries."""
    if facts.service is None:
        return []
    kids = min(MOST_KIDS, max(1, round(facts.service.litter)))
    return made["branches"][f"kidded{kids}"]["milk_g"]


def assumed(facts: Facts) -> list[str]:
    """Codes of what was assumed for her, sorted."""
    over = facts.service is not None and facts.today - BEFORE_D + DAYS > facts.service.mid
    last = facts.today - BEFORE_D + DAYS
    long_ago = facts.milk.in_milk and facts.milk.kidded is not None and last - facts.milk.kidded > longest_d()
    held = [*(["past_due_held_at_term"] if over else []), *(["milk_held_at_its_last_day"] if long_ago else [])]
    return sorted({*facts.assumed, *held})


def _shell(doe: Mapping[str, Any], today: int, doe_id: str, weight: str) -> Outlook:
    return {
        "schema": SCHEMA,
        "science": SCIENCE,
        "doe": doe_id,
        "rev": 0,
        "compiled_on": iso(today),
        "day0": iso(today - BEFORE_D),
        "n": DAYS,
        "basis": figures.basis(doe, weight),
        "who": {
            "size": "",
            "first": False,
            "growing": False,
            "keeper": "",
            "mass_g": 0,
            "mass_from": "",
            "litter_x100": 0,
            "litter_from": "",
            "kid_g": 0,
        },
        "due": None,
        "assumed": [],
        "withheld": [],
        "drivers": figures.NO_DRIVERS,
        "limits": figures.NO_LIMITS,
        "branches": {},
        "season": {"day0": "", "me_kj": [], "floor_me_kj": [], "phase": [], "appetite_g": []},
        "steps": [],
        "risk": NO_RISK,
        "cites": NO_CITES,
    }


def _blank(doe: Mapping[str, Any], today: int, doe_id: str, why: Withheld) -> Outlook:
    made = _shell(doe, today, doe_id, "")
    made["withheld"] = [why]
    return made


def _out_of_range(error: OutOfRange) -> Withheld:
    return _withheld("out_of_range", error.name, error.value, error.low, error.high)


def _withheld(why: str, name: str, value: float, low: float, high: float) -> Withheld:
    milli = [round(PER_UNIT * x) for x in (value, low, high)]
    return {"line": "amounts", "why": why, "name": name, "value": milli[0], "low": milli[1], "high": milli[2]}
