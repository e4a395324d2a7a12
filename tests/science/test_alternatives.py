"""Documented choices: complete, ours first, each with its source, and the defaults are the numbers in use."""

from __future__ import annotations

import pytest

from herd.science.base.alternatives import BETWEEN, DEFAULTS, NAME, alternative, alternatives
from herd.science.base.errors import MissingInput
from herd.science.parameters import sources, topic, values


def test_every_choice_of_the_table_belongs_to_a_rule_and_every_rule_has_choices() -> None:
    assert {key.split(BETWEEN)[0] for key in topic(NAME)} == set(DEFAULTS)
    assert all(len(alternatives(rule)) >= 2 for rule in DEFAULTS)


@pytest.mark.parametrize("rule", DEFAULTS)
def test_ours_comes_first_and_each_names_a_source(rule: str) -> None:
    found = alternatives(rule)
    assert [each.default for each in found] == [True] + [False] * (len(found) - 1)
    assert found[0] == alternative(rule)
    assert all(each.source in sources() and each.where for each in found)


def test_a_rule_or_choice_nobody_documents_is_refused() -> None:
    with pytest.raises(MissingInput):
        alternatives("moon_phase")
    with pytest.raises(MissingInput):
        alternative("maintenance", "guess")


def test_the_choices_are_the_numbers_the_equations_use() -> None:
    known = values("maintenance")
    assert known["mature_dairy_kj"] == alternative("maintenance").value
    assert known["gfe_kj"] == alternative("maintenance", "gfe2003").value
    assert known["gfe_month_5_kj"] == alternative("late_floor", "gfe2003").value
