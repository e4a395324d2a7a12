"""The whole card: lines, vitamins, water and alerts for what a herd gets on one day."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .alerts import Alert, Herd, alerts
from .lines import Line, element_lines, vitamin_lines
from .portions import Portion
from .water import read_water, water_portion


@dataclass(frozen=True)
class Card:
    """A herd's mineral and water card."""

    lines: tuple[Line, ...]
    vitamins: tuple[Line, ...]
    water: Mapping[str, str]
    alerts: tuple[Alert, ...]


def read_card(
    eaten: Sequence[Portion],
    stage: str,
    herd_kg: float,
    milk_kg: float = 0.0,
    herd: Herd | None = None,
    water_test: Mapping[str, float | None] | None = None,
    drunk_l: float | None = None,
) -> Card:
    """The card of a herd, or of one pen.

    Parameters
    ----------
    eaten : feeds and mineral products of one day [kg DM]
    stage : "late" when carrying does lead the pen, "milk" when milkers do
    herd_kg : scalar [kg], body weight of all does together
    milk_kg : scalar [kg/d], milk of all does together
    herd : what the card must know beside the diet
    water_test : mg/L by name, None when the water was never tested
    drunk_l : scalar [L/d], None when nobody measured it: the water then counts as a source of unknown content

    Returns
    -------
    Card

    Raises
    ------
    MissingInput : nothing is eaten
    OutOfRange : a water figure, the litres or the weight outside its range

    References
    ----------
    judgement
    """
    test = dict(water_test or {})
    # Litres not measured: one litre of unknown content, so that every total says "at least".
    water = water_portion({}, 1.0) if drunk_l is None else water_portion(test, drunk_l)
    portions = [*eaten, water]
    lines = element_lines(portions, stage)
    return Card(
        lines=lines,
        vitamins=vitamin_lines(list(eaten), stage, herd_kg, milk_kg),
        water=read_water(test),
        alerts=alerts(portions, lines, herd or Herd()),
    )
