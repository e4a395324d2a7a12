"""The shared vectors: each expectation was worked by hand from the inputs. Both folds read theirs."""

from __future__ import annotations

from typing import Any

import pytest

from herd.outlook.evaluate import evaluate
from herd.state.fold import fold
from tests.support.vectors import at, cases


@pytest.mark.parametrize("case", cases("fold"), ids=lambda case: case["name"])
def test_fold(case: dict[str, Any]) -> None:
    view = fold(case["events"])
    assert {path: at(view, path) for path in case["expect"]} == case["expect"]


@pytest.mark.parametrize("case", cases("evaluate"), ids=lambda case: case["name"])
def test_evaluate(case: dict[str, Any]) -> None:
    said = evaluate(fold(case["events"]), case["outlooks"], case["book"], case["day"])
    assert {path: at(said, path) for path in case["expect"]} == case["expect"]
