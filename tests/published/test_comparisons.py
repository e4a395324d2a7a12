"""The comparisons' own arguments: both ends answer, just outside raises; and each number says where it is from."""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from herd.science.base.errors import OutOfRange
from herd.science.parameters import STANDINGS
from tests.published.comparisons import activity, cold, copper, forage_tests, numbers, systems_gfe2003, tapes

CASES: list[tuple[Callable[..., Any], dict[str, float]]] = [
    (activity.walking_cost, {"slope": 0.05}),
    (activity.walking_energy_lachica1997, {"body_weight_kg": 50.0, "walked_km": 5.0, "climbed_m": 200.0}),
    (cold.cold_share, {"air_c": -5.0}),
    (copper.copper_absorbability_suttle1976, {"mo_mg_kg": 1.0, "s_g_kg": 2.0}),
    (forage_tests.me_from_tdn_nrc1981, {"tdn_pct": 58.0}),
    (forage_tests.tdn_legume_bath1989, {"adf_pct": 35.0}),
    (forage_tests.digestible_dm_nfta, {"adf_pct": 35.0}),
    (systems_gfe2003.lactation_energy_gfe2003, {"milk_kg": 2.0, "fat_pct": 4.0}),
    (tapes.weight_from_tape_nakanishi2017, {"girth_cm": 80.0, "length_cm": 72.0}),
    (tapes.weight_from_tape_rule300, {"girth_cm": 80.0, "length_cm": 72.0}),
    (tapes.weight_from_girth, {"girth_cm": 80.0}),
]
POINTS = [(f, good, name) for f, good in CASES for name in good]


@pytest.mark.parametrize(("function", "good", "name"), POINTS, ids=[f"{f.__name__}-{n}" for f, _, n in POINTS])
def test_both_ends_answer_and_beyond_them_raises(
    function: Callable[..., Any], good: dict[str, float], name: str
) -> None:
    limits = numbers.ranges()[name]
    for end in (limits.low, limits.high):
        assert np.isfinite(float(function(**{**good, name: end})))
    for beyond in (limits.low - 0.01, limits.high + 0.01, float("nan")):
        with pytest.raises(OutOfRange, match=name):
            function(**{**good, name: beyond})


def test_every_number_says_where_it_is_from_and_every_source_is_named() -> None:
    named = {limits.source for limits in numbers.read_ranges(numbers.HERE / "ranges.toml").values()}
    for table in sorted((numbers.HERE / "parameters").glob("*.toml")):
        for name, known in numbers.topic(table.stem).items():
            assert known.low <= known.value <= known.high, name
            assert known.standing in STANDINGS
            named.add(known.source)
    assert named <= numbers.sources().keys()
    texts = "".join(path.read_text() for path in numbers.HERE.rglob("*") if path.suffix in {".py", ".toml"})
    assert [key for key in numbers.sources() if texts.count(key) < 2] == []
