"""Other published systems: what they agree on, and that a wrong weight is refused where ours refuses it."""

from __future__ import annotations

import pytest

from herd.science.base.errors import OutOfRange
from herd.science.needs.maintenance import me_month_5_gfe2003
from tests.published.comparisons.systems_afrc import milk_energy_afrc
from tests.published.comparisons.systems_gfe2003 import me_milking_gfe2003
from tests.published.comparisons.systems_inra import pdi_inra, ufl_inra
from tests.published.comparisons.systems_nrc1981 import intake_nrc1981, me_maintenance_nrc1981, tdn_nrc1981


@pytest.mark.parametrize("weight_kg", [4.9, 141])
def test_impossible_weights_are_refused(weight_kg: float) -> None:
    with pytest.raises(OutOfRange):
        me_month_5_gfe2003(weight_kg)


def test_every_system_asks_more_late_than_early() -> None:
    assert me_month_5_gfe2003(60) > me_milking_gfe2003(60, 0, 4)
    assert pdi_inra(70, 0, "month_5") > pdi_inra(70, 0, "month_4") > pdi_inra(70)
    assert ufl_inra(70, 0, "month_5") > ufl_inra(70, 0, "month_4") > ufl_inra(70)


def test_the_1981_diet_is_about_56_per_cent_tdn() -> None:
    """2.0 Mcal ME per kg over 3.597 Mcal ME per kg TDN."""
    me_kcal = me_maintenance_nrc1981(50)
    assert tdn_nrc1981(me_kcal) / intake_nrc1981(me_kcal) == pytest.approx(0.556, abs=0.0005)


def test_richer_milk_holds_more_energy() -> None:
    assert milk_energy_afrc(60, 45) > milk_energy_afrc(40, 32) > milk_energy_afrc(30, 28)
