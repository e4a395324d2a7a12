"""The document itself: its parts, whole numbers only, lengths, and the same answer every time."""

from typing import Any, get_type_hints

import pytest

from herd.outlook import shapes
from herd.outlook.codes import ASSUMED, BRANCHES, LANES, PHASES, WITHHELD_LINES, WITHHELD_WHY
from herd.outlook.compile import DAYS, FRESH_DAYS, compile_doe
from tests.support.compiled import DOELING, MINI, STANDARD, TODAY, bred, folded, fresh, scanned, scored, weighed

MILKING = {"kidded": fresh(220), "kiddings": 1, "milks": [["2026-11-20", 1500, "morning", 0, "m"]]}
DOES: dict[str, dict[str, Any]] = {
    "class and a date": folded({"size": "mini"}, bred=bred(40)),
    "nothing at all": folded({}),
    "miniature with twins": folded(MINI, bred=bred(104), check=scanned(2), weights=weighed(30), scores=scored(300)),
    "triplets": folded(STANDARD, bred=bred(128), check=scanned(3), weights=weighed(60)),
    "doeling": folded(DOELING, bred=bred(110), weights=weighed(25, 0)),
    "milker": folded(STANDARD, bred=bred(80), **MILKING),
    "ran with the buck": folded(STANDARD, bred=bred(60, 42)),
    "fresh": folded(MINI, kidded=fresh(5, 3), kiddings=1),
    "overdue": folded(MINI, bred=bred(156), weights=weighed(31)),
    "open doeling": folded({**DOELING, "born_on": "2026-03-01"}),
    "dried off": folded(STANDARD, bred=bred(100), kidded=fresh(300), kiddings=1, dried_on="2026-11-10"),
    "weight no doe has": folded(MINI, bred=bred(50), weights=weighed(2)),
}


def leaves(value: Any) -> list[Any]:
    if isinstance(value, dict):
        return [leaf for part in value.values() for leaf in leaves(part)]
    if isinstance(value, list):
        return [leaf for part in value for leaf in leaves(part)]
    return [value]


@pytest.mark.parametrize("name", DOES)
def test_only_text_and_whole_numbers_a_phone_can_hold(name: str) -> None:
    found = leaves(dict(compile_doe(DOES[name], {}, TODAY, "doe")))
    assert {type(leaf) for leaf in found} <= {int, str, bool, type(None)}
    assert all(abs(leaf) < 2**53 for leaf in found if isinstance(leaf, int))


@pytest.mark.parametrize("name", DOES)
def test_every_part_is_there_and_every_array_has_its_length(name: str) -> None:
    doc: dict[str, Any] = dict(compile_doe(DOES[name], {}, TODAY, "doe"))
    assert doc.keys() == get_type_hints(shapes.Outlook).keys()
    assert doc["day0"] == "2026-10-28"
    assert doc["n"] == DAYS
    for name_of, branch in doc["branches"].items():
        assert branch.keys() == get_type_hints(shapes.Branch).keys()
        assert {len(days) for days in branch.values()} == {FRESH_DAYS if name_of.startswith("kidded") else DAYS}
    assert len({len(days) for key, days in doc["season"].items() if key != "day0"}) == 1


@pytest.mark.parametrize("name", DOES)
def test_codes_come_from_the_closed_lists(name: str) -> None:
    doc: dict[str, Any] = dict(compile_doe(DOES[name], {}, TODAY, "doe"))
    assert set(doc["assumed"]) <= set(ASSUMED)
    assert set(doc["branches"]) <= set(BRANCHES)
    assert {line["line"] for line in doc["withheld"]} <= set(WITHHELD_LINES)
    assert {line["why"] for line in doc["withheld"]} <= set(WITHHELD_WHY)
    for branch in doc["branches"].values():
        assert set(branch["phase"]) <= set(range(len(PHASES)))
        assert set(branch["lane"]) <= set(range(len(LANES)))


@pytest.mark.parametrize("name", DOES)
def test_nothing_is_negative_and_bands_are_bands(name: str) -> None:
    for branch in compile_doe(DOES[name], {}, TODAY, "doe")["branches"].values():
        for key, days in branch.items():
            lowest = min(days)
            assert lowest >= (-1 if key == "gest" else 0), key
        assert all(low < high for low, high in zip(branch["band_lo"], branch["band_hi"], strict=True))


@pytest.mark.parametrize("name", DOES)
def test_compiling_twice_gives_the_same_document(name: str) -> None:
    assert compile_doe(DOES[name], {}, TODAY, "doe") == compile_doe(DOES[name], {}, TODAY.isoformat(), "doe")


def test_only_branches_she_can_reach() -> None:
    reach = {name: set(compile_doe(doe, {}, TODAY, "doe")["branches"]) for name, doe in DOES.items()}
    kidded = {"kidded1", "kidded2", "kidded3"}
    assert reach["milker"] == {"as_is", "dry", "open"} | kidded
    assert reach["triplets"] == {"as_is", "open"} | kidded
    assert reach["fresh"] == {"as_is", "dry"}
    assert reach["open doeling"] == {"as_is"}


def test_a_weight_no_doe_has_is_withheld_with_its_range() -> None:
    doc = compile_doe(DOES["weight no doe has"], {}, TODAY, "doe")
    assert doc["branches"] == {}
    assert doc["withheld"] == [
        {"line": "amounts", "why": "out_of_range", "name": "body_weight_kg", "value": 2000, "low": 5000, "high": 140000}
    ]


def test_a_service_too_long_ago_is_withheld_not_carried_for_ever() -> None:
    doc = compile_doe(folded(MINI, bred=bred(400)), {}, TODAY, "doe")
    assert doc["withheld"][0]["name"] == "gestation_day"
