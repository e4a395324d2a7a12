"""Mass balance of sprouted grain: what a tray holds in dry matter, which is never more than the grain that went in.

Validity: barley, day 1 to 8, cool and clean. Accuracy: only the day 6 yield, the day 7 loss and the day 8 moisture were
measured; a weighed tray is always better. References: dung2010; fazaeli2011; nait_merzeg in sources.toml.
"""

from __future__ import annotations

from dataclasses import dataclass

from ..base.errors import OutOfRange
from ..base.record import equation
from ..parameters import values

NAME = "sprouts"
DAYS = range(1, 9)
WEEK_D = 7


@dataclass(frozen=True)
class Tray:
    """What one tray holds; contents in per cent of its dry matter."""

    fresh_kg: float
    dm_kg: float
    dm_pct: float
    cp_pct: float
    tdn_pct: float
    ndf_pct: float
    adf_pct: float
    p_pct: float

    @property
    def tdn_kg(self) -> float:
        """Digestible nutrients in the tray [kg]."""
        return self.dm_kg * self.tdn_pct / 100


@dataclass(frozen=True)
class Grain:
    """The grain soaked; dm_pct as fed, contents in per cent of dry matter."""

    dm_pct: float
    cp_pct: float
    tdn_pct: float
    ndf_pct: float
    adf_pct: float
    p_pct: float


@equation
def dm_loss(day: int) -> float:
    """Fraction of the grain's dry matter burnt off by a day."""
    if day not in DAYS:
        raise OutOfRange("sprout_day", day, DAYS[0], DAYS[-1], "fazaeli2012")
    return float(values(NAME)["dm_loss_day_7"] * (day / WEEK_D) ** values(NAME)["dm_loss_exponent"])


@equation
def sprout(grain: Grain, grain_kg: float, day: int, weighed_kg: float | None = None) -> Tray:
    """The tray after so many days.

    Parameters
    ----------
    grain : what was soaked
    grain_kg : scalar [kg as fed]
    day : scalar [d], 1 to 8
    weighed_kg : scalar [kg fresh], the tray on a scale; None takes the usual moisture of the day

    Raises
    ------
    OutOfRange : a day outside 1 to 8, or a tray weighing less than its own dry matter
    """
    known, week = values(NAME), day / WEEK_D
    kept = 1 - dm_loss(day)
    dm_kg = grain_kg * grain.dm_pct / 100 * kept
    dm_pct = known[f"dm_pct_day_{day}"] if weighed_kg is None else 100 * dm_kg / _heavier(weighed_kg, dm_kg)
    return Tray(
        fresh_kg=100 * dm_kg / dm_pct,
        dm_kg=dm_kg,
        dm_pct=dm_pct,
        cp_pct=grain.cp_pct * (1 - known["protein_loss_day_7"] * week) / kept,
        tdn_pct=grain.tdn_pct * (1 - known["tdn_drop_day_7"] * week),
        ndf_pct=grain.ndf_pct + known["ndf_rise_per_day"] * day,
        adf_pct=grain.adf_pct + known["adf_rise_per_day"] * day,
        p_pct=grain.p_pct / kept,
    )


def _heavier(weighed_kg: float, dm_kg: float) -> float:
    if weighed_kg <= dm_kg:
        raise OutOfRange("weighed_kg", weighed_kg, dm_kg, 10 * dm_kg, "fazaeli2011")
    return weighed_kg
