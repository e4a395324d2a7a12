"""What stands still of a risk: litter, kidding, history and expected milk, with the points of the parameter table."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.compile import compile_doe
from herd.outlook.compiling.risk import COUNTED, EDGES
from herd.science.parameters import values
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, bred, folded, fresh, scanned, weighed


def risk(f: dict[str, Any], **state: Any) -> dict[str, Any]:
    return dict(compile_doe(folded(f, **state), {}, TODAY, "doe")["risk"])


def carrying(kids: int, **f: Any) -> dict[str, Any]:
    return risk({**MINI, **f}, bred=bred(120), check=scanned(kids), weights=weighed(30))


@pytest.mark.parametrize(
    ("kids", "toxemia", "litter"),
    [(1, [], []), (2, [["twins", 1]], [["twins", 1]]), (3, [["triplets", 3]], [["triplets", 2]])],
)
def test_the_litter_counts(kids: int, toxemia: list[Any], litter: list[Any]) -> None:
    found = carrying(kids)
    assert found["toxemia"] == toxemia
    assert found["litter"] == litter
    assert found["counted"]


def test_a_third_kidding_counts_for_milk_fever_and_no_earlier_one() -> None:
    assert ["older", 1] in carrying(2)["milk_fever"]
    assert carrying(2, kiddings_before=1)["milk_fever"] == []
    assert risk(DOELING, bred=bred(120), weights=weighed(25))["milk_fever"] == []


def test_a_case_before_counts_once_in_its_own_disease() -> None:
    found = carrying(1, had_toxemia=True, had_milk_fever=True, kiddings_before=0)
    assert found["toxemia"] == [["had_it_before", 1]]
    assert found["milk_fever"] == [["had_it_before", 2]]


def test_a_heavy_milker_to_be_counts_and_a_miniature_is_none() -> None:
    milks = [[day, 5500, "morning", 0, "m"] for day in ("2026-11-20", "2026-11-22")]
    state = {"bred": bred(60), "kidded": fresh(120), "kiddings": 1, "milks": milks, "check": scanned(2)}
    assert ["heavy_milk", 1] in risk(STANDARD, weights=weighed(75), **state)["milk_fever"]
    assert ["heavy_milk", 1] not in carrying(2)["milk_fever"]


def test_an_open_doe_has_no_litter_and_still_her_own_history() -> None:
    found = risk({**MINI, "had_milk_fever": True}, kidded=fresh(10), kiddings=3)
    assert (found["toxemia"], found["litter"], found["counted"]) == ([], [], False)
    assert ["had_it_before", 2] in found["milk_fever"]


def test_the_tables_are_the_parameters() -> None:
    found, known = carrying(2), values("risk")
    assert found["points"] == {name: round(known[of]) for name, (of, _) in COUNTED.items()}
    assert found["edges"] == {name: round(by * known[of]) for name, (of, by) in EDGES.items()}
