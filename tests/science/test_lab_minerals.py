"""The other minerals of a report: one amount in every unit, as received turned, and what no feed can hold."""

from __future__ import annotations

import csv
from pathlib import Path

import pint
import pytest

from herd.science.lab.minerals import MOST_PCT, read_minerals

FEEDS = Path(__file__).parents[2] / "herd/science/feeds/feeds.csv"
UNITS = {"%": "percent", "ppm": "ppm", "g_kg": "g/kg"}


@pytest.mark.parametrize(("unit", "printed"), [("%", "0.25"), ("g_kg", "2.5"), ("ppm", "2500")])
@pytest.mark.parametrize("element", ["mg", "zn"])
def test_one_amount_in_every_unit(element: str, unit: str, printed: str) -> None:
    # against pint, the general library of units
    amount = pint.UnitRegistry().Quantity(float(printed), UNITS[unit])
    found = read_minerals({}, {element: printed}, {element: unit}, None)
    name, of = ("mg_pct_x100", "percent") if element == "mg" else ("zn_ppm_x100", "ppm")
    assert found.fields == {name: round(100 * amount.m_as(of))}
    assert not found.problems


def test_as_received_is_turned_by_the_dry_matter_and_dry_matter_is_taken_first() -> None:
    # 0.27 % of feed with 90 % dry matter is 0.30 % of dry matter
    assert read_minerals({"s": "0.27"}, {}, {}, 900).fields == {"s_pct_x100": 30}
    assert read_minerals({"s": "0.27"}, {"s": "0.31"}, {}, 900).fields == {"s_pct_x100": 31}


@pytest.mark.parametrize(
    ("received", "dry", "units", "code"),
    [
        ({"cu": "9"}, {}, {}, "no_dm"),
        ({}, {"cu": "about 9"}, {}, "unreadable"),
        ({}, {"cu": "9"}, {"cu": "lb"}, "unit_unknown"),
        ({}, {"mg": "62"}, {}, "mineral_impossible"),
    ],
)
def test_what_cannot_be_read_is_said_and_the_rest_kept(
    received: dict[str, str], dry: dict[str, str], units: dict[str, str], code: str
) -> None:
    found = read_minerals(received, {**dry, "zn": "30"}, units, None)
    assert [one.code for one in found.problems] == [code]
    assert found.fields == {"zn_ppm_x100": 3000}
    assert found.problems[0].sentence.endswith(".")


def test_the_most_of_an_element_is_no_less_than_any_feed_of_the_table_holds() -> None:
    # the feed table's pure compounds, each with its own source there
    with FEEDS.open(newline="") as rows:
        feeds = list(csv.DictReader(rows))
    for element, most in MOST_PCT.items():
        held = max(float(feed[f"{element}_pct_dm"]) for feed in feeds if feed[f"{element}_pct_dm"])
        assert 0 < held <= most, element
