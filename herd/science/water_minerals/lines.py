"""One line of the card per element: how much of it the diet holds against target and maximum tolerable level."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..base.record import equation
from ..parameters import values
from .portions import ELEMENTS, WATER, Portion
from .totals import Total, dry_matter_kg, total

P = values("card")
STATES = ("unknown", "short", "cannot_tell", "level", "over")
STAGES = ("late", "milk")


@dataclass(frozen=True)
class Line:
    """An element per kg of diet dry matter (a vitamin per kg of body weight) with its two limits, None where none;
    unknown_pm is the share of the dry matter eaten that has no figure."""

    element: str
    content: float
    target: float | None
    most: float | None
    state: str
    of: Total
    unknown_pm: int


def state_of(content: float, at_least: bool, nothing_known: bool, target: float | None, most: float | None) -> str:
    """What a content lets one say: an incomplete sum can prove enough or too much, never too little or not too much.

    Parameters
    ----------
    content : scalar [mg/kg DM]
    at_least : something eaten has no figure
    nothing_known : nothing eaten has a figure
    target : scalar [mg/kg DM] or None
    most : scalar [mg/kg DM] or None

    Returns
    -------
    one of STATES
    """
    if nothing_known:
        return "unknown"
    if most is not None and content > most:
        return "over"
    if target is None:
        return "cannot_tell" if at_least else "level"
    if content >= P["short_share"] * target:
        return "level"
    return "cannot_tell" if at_least else "short"


@equation
def element_lines(portions: Sequence[Portion], stage: str) -> tuple[Line, ...]:
    """Every mineral of the diet, feed, products and water together.

    Parameters
    ----------
    portions : what the herd gets on one day
    stage : "late" for carrying does, "milk" for milkers

    Returns
    -------
    one Line per element [mg/kg DM], in the order of ELEMENTS

    Raises
    ------
    MissingInput : nothing is eaten

    Validity
    --------
    Herd level only. Targets for goats are in part those of sheep and cattle; see each parameter's standing.

    References
    ----------
    french_leaflet; solaiman2010; oregon_sheep; merck_beef_minerals; weiss2003
    """
    dm_kg = dry_matter_kg(portions)
    return tuple(_line(total(element, portions), portions, dm_kg, stage) for element in ELEMENTS)


def _line(of: Total, portions: Sequence[Portion], dm_kg: float, stage: str) -> Line:
    target, most = P.get(f"{of.element}_{stage}"), P.get(f"{of.element}_most")
    content = of.known / dm_kg
    state = state_of(content, of.at_least, of.nothing_known, target, most)
    return Line(of.element, content, target, most, state, of, _unknown_pm(of.element, portions, dm_kg))


def _unknown_pm(element: str, portions: Sequence[Portion], dm_kg: float) -> int:
    """Share of the dry matter eaten that has no figure for an element [permille]."""
    blank = sum(p.amount for p in portions if p.kind != WATER and p.brings(element) is None)
    return round(1000 * blank / dm_kg)
