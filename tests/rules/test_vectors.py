"""The shared vectors are for people to read as well: a vet, for one."""

import json
from pathlib import Path

import pytest

from tests.support.sources import name
from tests.support.vectors import files, pretty

FEWEST_WORDS = 4


@pytest.mark.parametrize("path", files(), ids=name)
def test_a_vector_says_why_in_a_sentence(path: Path) -> None:
    why = json.loads(path.read_text()).get("why", "")
    assert len(why.split()) >= FEWEST_WORDS
    assert why[0].isupper() or why[0].isdigit()
    assert why.endswith(".")


@pytest.mark.parametrize("path", files(), ids=name)
def test_a_vector_is_set_out_to_be_read(path: Path) -> None:
    """`python -m tests.support.vectors --write` does it."""
    assert path.read_text() == pretty(json.loads(path.read_text()))


def test_setting_out_changes_no_value_and_keeps_lines_short() -> None:
    value = {"a": [1, {"b": "x" * 30, "c": [*range(200)], "d": [[], {}, "é", "\ud83d"]}], "e": {}, "f": []}
    text = pretty(value)
    assert json.loads(text) == value
    assert max(map(len, text.splitlines())) < 120
    assert pretty({"short": [1, 2]}) == '{"short": [1, 2]}\n'
