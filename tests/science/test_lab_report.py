"""Laboratory reports: shared vectors worked by hand, and what must hold of any report."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from herd.science.composition import me_from_tdn, tdn_legume_bath1989
from herd.science.lab.numbers import figure, ratio
from herd.science.lab.words import NAMES, NOTES, PROBLEMS, Remark
from herd.science.lab_report import Outcome, Report, read_report
from herd.science.parameters import values
from herd.state.record_fields import COMPOSITION
from tests.support.vectors import cases

CASES = cases("lab")


def read(**report: Any) -> Outcome:
    return read_report(Report(**{"received": {}, "dry": {}, "units": {}, **report}))


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_vector(case: dict[str, Any]) -> None:
    outcome = read(**case["report"])
    said = {
        "fields": outcome.fields,
        "tdn_by": outcome.tdn_by,
        "problems": [[remark.code, remark.field, remark.value] for remark in outcome.problems],
        "notes": [[remark.code, remark.field, remark.value] for remark in outcome.notes],
    }
    assert said == case["outcome"]


def test_a_refusal_says_what_to_check() -> None:
    refused = [read(**case["report"]) for case in CASES if case["outcome"]["problems"]]
    assert len(refused) >= 10
    for outcome in refused:
        assert outcome.refused
        for problem in outcome.problems:
            assert "{" not in problem.sentence
            assert ":" in problem.sentence
            assert problem.sentence.endswith(".")


def test_every_sentence_can_be_said() -> None:
    for code in (*PROBLEMS, *NOTES):
        for field in NAMES:
            assert "{" not in Remark(code, field, "1.0").sentence


@given(st.integers(60, 95), st.integers(30, 250), st.integers(300, 700))
def test_either_column_gives_the_same_record(dm: int, cp_x10: int, ndf_x10: int) -> None:
    dry = {"cp": f"{cp_x10 / 10:.1f}", "ndf": f"{ndf_x10 / 10:.1f}", "tdn": "55"}
    received = {name: f"{float(text) * dm / 100:.4f}" for name, text in dry.items()}
    one = read(received={"dm": str(dm)}, dry=dry, kind="mixed").fields
    other = read(received={"dm": str(dm), **received}, kind="mixed").fields
    assert one
    assert {name: abs(one[name] - other[name]) for name in one} == dict.fromkeys(one, 0)


@given(st.dictionaries(st.sampled_from(list(NAMES)), st.text("0123456789.,-% ", max_size=7)), st.booleans())
def test_any_report_is_read_into_what_a_record_may_hold_or_refused(column: dict[str, str], cured: bool) -> None:
    for kind in ("legume", "grain"):
        outcome = read(received=column, dry=column, kind=kind, cured=cured)
        assert outcome.refused == bool(outcome.problems)
        assert not (outcome.refused and outcome.fields)
        for name, value in outcome.fields.items():
            assert COMPOSITION[name](value) is None


@pytest.mark.parametrize(
    ("text", "v"), [("18.25", 182_500), ("18,25", 182_500), ("0.0001", 1), ("90", 900_000), (" 7 ", 70_000)]
)
def test_a_written_figure(text: str, v: int) -> None:
    found = figure(text)
    assert found is not None
    assert found.v == v


@pytest.mark.parametrize("text", ["", "-1", "1e3", "18.25%", "1.23456", ".5", "٣"])
def test_what_is_no_plain_figure_is_refused(text: str) -> None:
    assert figure(text) is None


@given(st.integers(0, 10**9), st.integers(0, 10**6), st.integers(1, 10**7))
def test_ratio_is_rounded_half_up(value: int, times: int, over: int) -> None:
    exact = value * times / over
    assert abs(ratio(value, times, over) - exact) <= 0.5 + 1e-9 * exact


def test_the_parameters_shared_with_other_equations_agree() -> None:
    lab = values("lab")
    assert lab["legume_top"] - lab["legume_slope"] * 35 == pytest.approx(float(tdn_legume_bath1989(35)))
    assert lab["me_per_tdn"] * 60 * 4184 == pytest.approx(float(me_from_tdn(60)), rel=1e-3)
