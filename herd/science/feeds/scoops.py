"""What a scoop holds before anybody has weighed it: level, not tapped, and only a place to start."""

from __future__ import annotations

from dataclasses import dataclass

from ..base.errors import MissingInput
from ..base.record import equation
from ..base.validity import check
from ..parameters import topic

NAME = "scoops"
# A US liquid quart and a US dry quart are not the same scoop: say which.
LITRES = {"l": 1.0, "liquid_qt": 0.946352946, "dry_qt": 1.101220943, "cup": 0.2365882365}


@dataclass(frozen=True)
class ScoopGuess:
    """A scoop's mass with the range such feeds run in, and how the figure is known."""

    g: float
    low_g: float
    high_g: float
    standing: str
    source: str


@equation
def scoop_guess(feed_id: str, amount: float, measure: str = "l") -> ScoopGuess:
    """Mass of a level scoop of a library feed.

    Equation: litres x kg/L

    Parameters
    ----------
    feed_id : id of a library feed with a bulk density
    amount : scalar [measures], 0.01 to 20
    measure : one of LITRES

    Returns
    -------
    ScoopGuess [g as fed]

    Raises
    ------
    MissingInput : no bulk density is known for the feed: weigh it
    OutOfRange : amount outside its range

    Validity
    --------
    Grinding, lot and hand change it by a tenth and more. A raise of grain waits for a weighed scoop.

    References
    ----------
    manual_densities; alabama_densities; fao_densities; beet_pellet_densities; judgement
    """
    check(scoops=amount)
    known = topic(NAME).get(feed_id)
    if known is None:
        raise MissingInput("kg_per_l")
    ml = 1000 * amount * LITRES[measure]
    return ScoopGuess(ml * known.value, ml * known.low, ml * known.high, known.standing, known.source)


def feeds_with_density() -> tuple[str, ...]:
    """Library feeds a scoop can be guessed for."""
    return tuple(topic(NAME))
