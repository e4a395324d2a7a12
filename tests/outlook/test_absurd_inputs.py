"""Whatever the door lets in, however absurd, gives whole numbers or a reason: never an error, never a NaN."""

from __future__ import annotations

import json
from datetime import date, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from herd.outlook.book import compile_book
from herd.outlook.codes import ASSUMED, WITHHELD_LINES, WITHHELD_WHY
from herd.outlook.compile import compile_doe
from herd.outlook.evaluate import evaluate
from herd.outlook.rules import RULES, rules_of
from herd.science.base.validity import ranges
from herd.state.fold import fold
from herd.state.payloads import problem_in
from herd.state.tables import CODES
from tests.support.log import Log
from tests.support.paths import ROOT

TODAY = date(2026, 11, 25)
NEAR = st.integers(-420, 30).map(lambda days: (TODAY + timedelta(days=days)).isoformat())
ANY_DAY = st.one_of(NEAR, NEAR, st.dates(date(1, 1, 1), date(9999, 12, 31)).map(date.isoformat))
FIELDS = st.fixed_dictionaries(
    {},
    optional={
        "size": st.sampled_from(["standard", "mini"]),
        "breed": st.sampled_from(CODES["breeds"]),
        "born_on": st.one_of(st.just(""), ANY_DAY),
        "mature_kg": st.one_of(st.just(0), st.integers(10, 140)),
        "keeper": st.sampled_from(["easy", "even", "hard"]),
        "growing": st.sampled_from([None, True, False]),
        "kiddings_before": st.integers(0, 20),
        "fat_x100": st.integers(0, 1500),
    },
)
WEIGHT = st.fixed_dictionaries(
    {
        "g": st.integers(500, 250_000),
        "how": st.sampled_from(["scale", "tape"]),
        "girth_mm": st.just(0),
        "length_mm": st.just(0),
    }
)
KINDS = st.one_of(
    st.tuples(st.just("weight"), WEIGHT),
    st.tuples(st.just("milk"), st.fixed_dictionaries({"g": st.integers(0, 20_000), "fat_x100": st.integers(0, 1500)})),
    st.tuples(st.just("score"), st.fixed_dictionaries({"x100": st.integers(4, 20).map(lambda n: 25 * n)})),
    st.tuples(
        st.just("bred"),
        st.tuples(ANY_DAY, ANY_DAY).map(
            lambda both: {"from_on": min(both), "to_on": max(both), "how": "pen", "buck": "Moss"}
        ),
    ),
    st.tuples(
        st.just("preg_check"),
        st.fixed_dictionaries(
            {
                "result": st.sampled_from(["pregnant", "open", "unsure"]),
                "kids": st.integers(0, 5),
                "how": st.sampled_from(["scan", "blood", "other"]),
            }
        ),
    ),
    st.tuples(st.just("kidded"), st.integers(0, 6).map(lambda born: {"born": born, "alive": born})),
    st.tuples(st.just("dried_off"), st.just({})),
)
EVENTS = st.lists(st.tuples(KINDS, ANY_DAY), max_size=9)
CHOSEN = st.dictionaries(st.sampled_from(sorted(RULES)), st.booleans(), max_size=6).map(
    lambda picked: {name: RULES[name].high if high else RULES[name].low for name, high in picked.items()}
)
HAY = st.tuples(st.sampled_from(["alfalfa_hay_mid", "corn_grain", "nobody_knows"]), st.integers(0, 600_000))


def folded(fields: dict[str, Any], events: list[Any], feeding: tuple[str, int]) -> dict[str, Any]:
    log = Log()
    log.record("doe", "doe", name="Fern", **fields)
    log.pen("pen", "doe")
    for (kind, data), on in events:
        log.add(kind, "doe", data, on)
    for back in range(7):
        log.fed("pen", (TODAY - timedelta(days=back)).isoformat(), "morning", ("doe", *feeding))
    for event in log.events:
        if event["kind"] in ("weight", "milk", "score", "bred", "kidded", "preg_check"):
            assert problem_in(event["kind"], event["v"], event["data"]) is None
    return fold(log.events)


def numbers(value: Any) -> Any:
    """Every leaf; a float anywhere is a number that should not be there."""
    if isinstance(value, dict):
        return [leaf for part in value.values() for leaf in numbers(part)]
    return [leaf for part in value for leaf in numbers(part)] if isinstance(value, list) else [value]


@pytest.mark.slow
@settings(max_examples=400, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(fields=FIELDS, events=EVENTS, rules=CHOSEN, feeding=HAY)
@example(fields={}, events=[], rules={}, feeding=("alfalfa_hay_mid", 537_264))
def test_absurd_but_accepted_records_give_whole_numbers_or_a_reason(
    fields: dict[str, Any], events: list[Any], rules: dict[str, int], feeding: tuple[str, int]
) -> None:
    view = folded(fields, events, feeding)
    made = compile_doe(view["does"]["doe"], rules_of(rules), TODAY, "doe")
    json.dumps(made, allow_nan=False)
    assert not [leaf for leaf in numbers(made) if not isinstance(leaf, int | str | bool | None)]
    assert set(made["assumed"]) <= set(ASSUMED)
    assert bool(made["branches"]) != bool(made["withheld"])
    for held in made["withheld"]:
        assert held["line"] in WITHHELD_LINES
        assert held["why"] in WITHHELD_WHY
        outside = held["why"] == "missing" or not held["low"] <= held["value"] <= held["high"]
        assert outside, held
    # whatever came out, the phone can go on from it
    said = evaluate(view, {"doe": dict(made)}, dict(compile_book(view)), TODAY.isoformat())
    json.dumps(said, allow_nan=False)
    for branch in made["branches"].values():
        assert min(branch["me_kj"]) >= 0
        assert min(branch["appetite_g"]) >= 0


@pytest.mark.parametrize(
    ("kind", "data", "on", "name"),
    [
        ("bred", {"from_on": "9999-12-20", "to_on": "9999-12-30", "how": "pen", "buck": ""}, "2026-11-01", "span_d"),
        ("bred", {"from_on": "0001-01-01", "to_on": "0001-01-02", "how": "pen", "buck": ""}, "2026-11-01", "span_d"),
        (
            "bred",
            {"from_on": "2026-01-01", "to_on": "9999-12-30", "how": "pen", "buck": ""},
            "2026-11-01",
            "window_d",
        ),
        ("kidded", {"born": 1, "alive": 1}, "0001-01-01", "span_d"),
        ("kidded", {"born": 1, "alive": 1}, "2030-01-01", "span_d"),
        ("weight", {"g": 500, "how": "scale", "girth_mm": 0, "length_mm": 0}, "2026-11-01", "body_weight_kg"),
    ],
)
def test_a_slip_of_the_pen_is_named(kind: str, data: dict[str, Any], on: str, name: str) -> None:
    view = folded({}, [((kind, data), on)], ("alfalfa_hay_mid", 2000))
    made = compile_doe(view["does"]["doe"], rules_of({}), TODAY, "doe")
    assert [held["name"] for held in made["withheld"]] == [name]
    assert made["branches"] == {}


def test_a_lactation_without_an_end_is_said_to_be_held() -> None:
    view = folded({}, [(("kidded", {"born": 1, "alive": 1}), "2024-01-01")], ("alfalfa_hay_mid", 2000))
    made = compile_doe(view["does"]["doe"], rules_of({}), TODAY, "doe")
    assert "milk_held_at_its_last_day" in made["assumed"]


def test_every_range_that_can_hold_amounts_back_has_words() -> None:
    words = json.loads((ROOT / "frontend/src/texts/en.json").read_text())
    told = {key.removeprefix("arg.") for key in words if key.startswith("arg.")}
    assert told <= ranges().keys()
    assert {"body_weight_kg", "fat_pct", "window_d", "gestation_day", "milk_kg", "age_d"} <= told
