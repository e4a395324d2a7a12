"""How far our default set lies from other published allowances: `python -m tests.published.distances` writes the table.

The table is data of the client's reference, so that building the package needs no numpy. A test holds it current.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import Any

from herd.outlook.rules import RULES
from herd.science.body.litter import litter_share
from herd.science.intake.appetite import (
    appetite_carrying,
    appetite_dry,
    appetite_milk,
    appetite_milk_base,
    late_appetite_share,
)
from herd.science.needs.lactation import fat_corrected_milk, lactation_energy_nsahlai2004
from herd.science.needs.late_floor import floor_allowance
from herd.science.needs.maintenance import maintenance_gfe2003, maintenance_luo2004, me_month_5_gfe2003
from herd.science.needs.pregnancy import pregnancy_energy_afrc1993, pregnancy_protein
from herd.science.needs.protein import crude_protein, lactation_protein, maintenance_protein_nsahlai2004
from tests.published.comparisons.systems_afrc import basal_protein_afrc, me_maintenance_afrc
from tests.published.comparisons.systems_gfe2003 import me_milking_gfe2003
from tests.published.comparisons.systems_inra import pdi_inra, ufl_inra
from tests.published.comparisons.systems_nrc1981 import (
    KJ_PER_KCAL,
    me_maintenance_nrc1981,
    me_milk_nrc1981,
    total_protein_nrc1981,
)
from tests.support.paths import ROOT

FILE = ROOT / "frontend/reference/distances.csv"
HEAD = ("what", "kg", "system", "theirs", "ours", "unit")
GERMAN, FRENCH, AMERICAN, BRITISH = "German 2003", "French", "American 1981", "British style"
KGS = (45, 60, 75)
FRENCH_KG = 70
MONTH_4_D, MONTH_5_D, LENGTH_D = 105, 135, 150
TWINS, MILK_KG, FAT_PCT, MILK_PROTEIN_PCT, DIET_ME_MJ = 2, 2.0, 3.5, 3.0, 9.0
Row = tuple[str, float, str, float, float, str]


def rows() -> list[Row]:
    """(what, kg, system, theirs, ours, unit) with two digits after the point."""
    found = [*energy(), *against_dry(), *protein_of_does()]
    return [
        (what, kg, system, round(theirs, 2), round(ours, 2), unit) for what, kg, system, theirs, ours, unit in found
    ]


def mj(kj: Any) -> float:
    return float(kj) / 1000


def litter_kg(kg: float) -> float:
    return kg * float(litter_share(TWINS, "standard", "alpine"))


def carrying(kg: float, day: int) -> float:
    return mj(maintenance_luo2004(kg) + pregnancy_energy_afrc1993(day, litter_kg(kg), LENGTH_D))


def floor(kg: float, day: int) -> float:
    share = RULES["floor_share_pm"].default / 1000
    return mj(floor_allowance(maintenance_gfe2003(kg), pregnancy_energy_afrc1993(day, litter_kg(kg), LENGTH_D), share))


def milking(kg: float) -> float:
    return mj(maintenance_luo2004(kg) + lactation_energy_nsahlai2004(fat_corrected_milk(MILK_KG, FAT_PCT)))


def carried_protein(kg: float, day: int) -> float:
    """Protein used by a dry doe with twins, at what she can be expected to eat."""
    eaten_kg = appetite_carrying(kg, day, LENGTH_D) * late_appetite_share(LENGTH_D - day, TWINS)
    return float(maintenance_protein_nsahlai2004(eaten_kg, kg) + pregnancy_protein(day, litter_kg(kg), LENGTH_D))


def energy() -> Iterator[Row]:
    for kg in KGS:
        dry, unit = mj(maintenance_luo2004(kg)), "MJ ME"
        american = KJ_PER_KCAL * float(me_maintenance_nrc1981(kg)) / 1000
        yield "Energy, dry", kg, GERMAN, mj(maintenance_gfe2003(kg)), dry, unit
        yield "Energy, dry", kg, AMERICAN, american, dry, unit
        yield "Energy, dry", kg, BRITISH, mj(me_maintenance_afrc(kg, DIET_ME_MJ)), dry, unit
        yield "Energy, month 4, twins", kg, GERMAN, mj(maintenance_gfe2003(kg)), carrying(kg, MONTH_4_D), unit
        yield "Energy, month 5, twins", kg, GERMAN, mj(me_month_5_gfe2003(kg)), carrying(kg, MONTH_5_D), unit
        yield "Late floor, month 5, twins", kg, GERMAN, mj(me_month_5_gfe2003(kg)), floor(kg, MONTH_5_D), unit
        yield "Energy, 2 kg milk", kg, GERMAN, mj(me_milking_gfe2003(kg, MILK_KG, FAT_PCT)), milking(kg), unit
        of_milk = KJ_PER_KCAL * float(me_milk_nrc1981(MILK_KG, FAT_PCT)) / 1000
        yield "Energy, 2 kg milk", kg, AMERICAN, american + of_milk, milking(kg), unit


def against_dry() -> Iterator[Row]:
    """The French unit is net energy of barley, so only the rise over a dry doe can be compared without a conversion."""
    kg, unit = FRENCH_KG, "times a dry doe"
    dry, ours = float(ufl_inra(kg)), mj(maintenance_luo2004(kg))
    yield (
        "Energy, month 4, twins",
        kg,
        FRENCH,
        float(ufl_inra(kg, 0, "month_4")) / dry,
        carrying(kg, MONTH_4_D) / ours,
        unit,
    )
    yield (
        "Energy, month 5, twins",
        kg,
        FRENCH,
        float(ufl_inra(kg, 0, "month_5")) / dry,
        carrying(kg, MONTH_5_D) / ours,
        unit,
    )
    yield "Energy, 2 kg milk", kg, FRENCH, float(ufl_inra(kg, MILK_KG)) / dry, milking(kg) / ours, unit


def protein_of_does() -> Iterator[Row]:
    """Metabolizable protein stands against the French protein digestible in the intestine, gram for gram."""
    unit, kg = "g protein used", FRENCH_KG
    dry = float(maintenance_protein_nsahlai2004(appetite_dry(kg), kg))
    fcm_kg = fat_corrected_milk(MILK_KG, FAT_PCT)
    eaten_kg = appetite_milk_base(kg, "standard") + appetite_milk(fcm_kg)
    milk_g = float(lactation_protein(10 * MILK_KG * MILK_PROTEIN_PCT))
    in_milk = float(maintenance_protein_nsahlai2004(eaten_kg, kg)) + milk_g
    month_4, month_5 = (carried_protein(kg, day) for day in (MONTH_4_D, MONTH_5_D))
    yield "Protein, dry", kg, FRENCH, float(pdi_inra(kg)), dry, unit
    yield "Protein, month 4, twins", kg, FRENCH, float(pdi_inra(kg, 0, "month_4")), month_4, unit
    yield "Protein, month 5, twins", kg, FRENCH, float(pdi_inra(kg, 0, "month_5")), month_5, unit
    yield "Protein, 2 kg milk", kg, FRENCH, float(pdi_inra(kg, MILK_KG)), in_milk, unit
    for weight in KGS:
        whole = float(total_protein_nrc1981(me_maintenance_nrc1981(weight)))
        own = float(crude_protein(maintenance_protein_nsahlai2004(appetite_dry(weight), weight)))
        yield "Protein, dry", weight, AMERICAN, whole, own, "g crude protein"
        used = float(maintenance_protein_nsahlai2004(appetite_dry(weight), weight))
        yield "Protein, dry", weight, BRITISH, float(basal_protein_afrc(weight)), used, unit


def text() -> str:
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(HEAD)
    table.writerows(rows())
    return out.getvalue()


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
