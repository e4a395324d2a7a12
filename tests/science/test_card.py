"""The herd's mineral and water card: sums that know what they do not know, and remarks that follow from them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.feeds.library import feeds
from herd.science.parameters import values
from herd.science.water_minerals.lines import STATES, Line, element_lines, state_of
from herd.science.water_minerals.portions import ELEMENTS, FEED, PRODUCT, Portion, holdings
from herd.science.water_minerals.totals import total
from herd.science.water_minerals.water import read_water, water_portion

P = values("card")
EVERYTHING = {**dict.fromkeys((*ELEMENTS, "ca"), 0.0)}


def feed(dm_kg: float = 10.0, **holds: float | None) -> Portion:
    """A feed whose every figure is known, nought unless said."""
    return Portion("hay", FEED, dm_kg, {**EVERYTHING, **holds})


def line(portions: list[Portion], element: str, stage: str = "late"):
    return next(each for each in element_lines(portions, stage) if each.element == element)


def lines_of(*portions: Portion, test: dict[str, float | None] | None = None, drunk_l: float = 1.0) -> dict[str, Line]:
    """With water, which nobody tested unless said."""
    every = [*portions, water_portion(test or {}, drunk_l)]
    return {each.element: each for each in element_lines(every, "late")}


def test_a_total_is_the_sum_of_its_sources_largest_first() -> None:
    found = total("se", [feed(10, se=0.1), Portion("salt", PRODUCT, 0.1, {"se": 30.0})])
    assert found.known == pytest.approx(10 * 0.1 + 0.1 * 30)
    assert found.sources == (("salt", pytest.approx(3.0)), ("hay", pytest.approx(1.0)))
    assert not found.at_least


def test_what_is_unknown_is_named_and_the_sum_is_at_least() -> None:
    found = total("se", [feed(10, se=0.1), Portion("oats", FEED, 3, {"se": None}), Portion("kelp", PRODUCT, 0.1, {})])
    assert found.known == pytest.approx(1.0)
    assert found.unknown == ("oats", "kelp")
    assert found.at_least


def test_nothing_eaten_of_a_feed_makes_nothing_unknown() -> None:
    assert total("se", [feed(10, se=0.1), Portion("oats", FEED, 0, {"se": None})]).unknown == ()


def test_library_figures_come_in_one_unit() -> None:
    """Alfalfa hay, early bloom: Mg 0.33 %, Cu 9 mg/kg; selenium is blank."""
    held = holdings(feeds()["alfalfa_hay_early"])
    assert (held["mg"], held["cu"], held["se"], held["ca"]) == (pytest.approx(3300), 9, None, pytest.approx(14100))


@pytest.mark.parametrize(
    ("content", "at_least", "nothing", "state"),
    [
        (0.30, False, False, "level"),
        (0.10, False, False, "short"),
        (0.10, True, False, "cannot_tell"),
        (0.30, True, False, "level"),
        (2.50, True, False, "over"),
        (0.00, True, True, "unknown"),
    ],
)
def test_an_incomplete_sum_proves_too_much_and_never_too_little(
    content: float, at_least: bool, nothing: bool, state: str
) -> None:
    assert state_of(content, at_least, nothing, 0.25, 2.0) == state


@given(st.floats(0, 50), st.floats(0, 50), st.booleans())
def test_more_of_it_never_reads_shorter(a: float, b: float, at_least: bool) -> None:
    rank = {state: place for place, state in enumerate(("short", "cannot_tell", "level", "over"))}
    low, high = sorted((a, b))
    assert rank[state_of(low, at_least, False, 15, 40)] <= rank[state_of(high, at_least, False, 15, 40)]


def test_content_does_not_depend_on_the_number_of_does() -> None:
    one = line([feed(2, cu=10), Portion("salt", PRODUCT, 0.02, {**EVERYTHING, "cu": 1600})], "cu")
    ten = line([feed(20, cu=10), Portion("salt", PRODUCT, 0.2, {**EVERYTHING, "cu": 1600})], "cu")
    assert one.content == pytest.approx(ten.content)
    assert one.content == pytest.approx((2 * 10 + 0.02 * 1600) / 2.02)


def test_every_element_has_a_line_and_a_target_but_molybdenum() -> None:
    lines = element_lines([feed()], "milk")
    assert tuple(each.element for each in lines) == ELEMENTS
    assert [each.element for each in lines if each.target is None] == ["mo"]
    assert all(each.most for each in lines)
    assert {each.state for each in lines} <= set(STATES)


def test_the_share_of_the_ration_without_a_figure_is_said() -> None:
    found = line([feed(9, se=0.1), Portion("oats", FEED, 1, {})], "se")
    assert found.unknown_pm == 100


def test_an_empty_manger_has_no_card() -> None:
    with pytest.raises(MissingInput):
        lines_of(feed(0))
    with pytest.raises(OutOfRange):
        lines_of(feed(), drunk_l=2001)


def test_water_nobody_measured_leaves_sulfur_unsure_and_copper_known() -> None:
    lines = lines_of(feed(s=2000, cu=15))
    assert lines["s"].of.unknown == ("water",)
    assert not lines["cu"].of.at_least
    assert "water" not in dict(lines["cu"].of.sources)


def test_an_element_no_feed_has_a_figure_for_is_unknown_whatever_the_water() -> None:
    lines = lines_of(Portion("hay", FEED, 10, {"mg": 2000.0}))
    assert {lines[element].state for element in ("co", "i", "mo", "se")} == {"unknown"}


def test_molybdenum_half_known_is_no_all_clear() -> None:
    assert line([feed(10, mo=1.0), Portion("oats", FEED, 1, {})], "mo").state == "cannot_tell"
    assert line([feed(10, mo=1.0)], "mo").state == "level"


def test_a_trace_that_was_tested_in_water_counts() -> None:
    copper = lines_of(feed(2), test={"cu": 0.5}, drunk_l=6.0)["cu"]
    assert dict(copper.of.sources)["water"] == pytest.approx(3.0)


def test_the_printed_example_of_sulfate_to_sulfur() -> None:
    """1000 mg/L x 4 L = 1.34 g S, 0.074 % of 1.8 kg DM (worked by atomic weights)."""
    test: dict[str, float | None] = {"sulfate": 1000.0}
    sulfur = lines_of(feed(1.8), test=test, drunk_l=4.0)["s"]
    assert sulfur.of.known == pytest.approx(1336, abs=1)
    assert sulfur.content / 10_000 == pytest.approx(0.0742, abs=0.0001)
    assert (read_water(test)["sulfate"], read_water(test)["tds"]) == ("amber", "unknown")
