"""Documented choices: complete, ours first, and each does what its source says."""

from __future__ import annotations

import numpy as np
import pytest

from herd.science.alternatives import (
    BETWEEN,
    DEFAULTS,
    NAME,
    alternative,
    alternatives,
    calcium_diet_by,
    close_up_starts,
    late_floor_by,
    maintenance_by,
    pre_kidding_calcium,
    pre_kidding_from_d,
    rules_with_alternatives,
)
from herd.science.calcium import calcium_diet
from herd.science.errors import MissingInput
from herd.science.late_floor import floor_allowance
from herd.science.litter import litter_share
from herd.science.maintenance import maintenance_gfe2003, maintenance_luo2004
from herd.science.parameters import sources, topic, values
from herd.science.pregnancy import pregnancy_energy_afrc1993


def test_every_choice_of_the_table_belongs_to_a_rule_and_every_rule_has_choices() -> None:
    named = {key.split(BETWEEN)[0] for key in topic(NAME) if BETWEEN in key}
    assert named == set(rules_with_alternatives()) == set(DEFAULTS)
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
    with pytest.raises(MissingInput):
        maintenance_by("guess", 60)


def test_the_defaults_are_the_equations_in_use() -> None:
    assert maintenance_by("luo2004", 60) == maintenance_luo2004(60)
    assert maintenance_by("gfe2003", 60) == maintenance_gfe2003(60)
    assert calcium_diet_by("inra", 4.0) == pytest.approx(float(calcium_diet(4.0)))
    assert values("minerals")["ca_absorption"] == alternative("calcium_absorption").value
    assert values("systems_gfe2003")["month_5"] == alternative("late_floor", "gfe2003").value
    assert values("maintenance")["mature_dairy_kj"] == alternative("maintenance").value


@pytest.mark.parametrize(("kg", "mj"), [(45, 10.4), (75, 15.3)])
def test_the_german_floor_is_month_five_of_its_table(kg: float, mj: float) -> None:
    """GfE 2003 Table 1, month 5; the 60 kg row was printed 0.07 MJ above one coefficient."""
    assert float(late_floor_by("gfe2003", kg, 5000.0)) / 1000 == pytest.approx(mj, abs=0.05)


def test_the_litter_floor_follows_the_litter_and_the_german_one_does_not() -> None:
    day = np.arange(121.0, 151.0)
    needs = [pregnancy_energy_afrc1993(day, 60 * litter_share(kids, "standard"), 150) for kids in (1, 2, 3)]
    ours = [np.mean(late_floor_by("litter", 60, need)) for need in needs]
    theirs = [np.mean(late_floor_by("gfe2003", 60, need)) for need in needs]
    assert ours == sorted(ours)
    assert len(set(theirs)) == 1
    assert ours[0] < theirs[0] < ours[2]
    assert np.asarray(late_floor_by("litter", 60, needs[1])) == pytest.approx(
        np.asarray(floor_allowance(maintenance_gfe2003(60), needs[1], 0.46))
    )


def test_calcium_need_by_absorption() -> None:
    """One absorbed need of 3 g: 7.5 g by INRA, 10.0 by Meschy, 6.7 by the 2007 tables."""
    found = [float(calcium_diet_by(choice, 3.0)) for choice in ("inra", "meschy", "nrc2007")]
    assert found == pytest.approx([7.5, 10.0, 6.667], abs=0.001)


def test_only_the_rule_agreed_with_the_vet_goes_under_need() -> None:
    for each in alternatives("pre_kidding_calcium"):
        least, most = pre_kidding_calcium(each.choice)
        assert least <= most
        assert (least < 1) == (each.choice == "lower")
    assert pre_kidding_from_d() == 28


def test_close_up_from_short_to_long() -> None:
    starts = [close_up_starts(choice, 150) for choice in ("short", "usual", "month", "long")]
    assert starts == [136, 129, 120, 108]
