"""How a keeper's feeding goes wrong, if it does: which way, how far, from when, how long, and whether it is seen."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

GOOD, SHORT, OVER, POOR_HAY = "good", "short", "over", "poor_hay"
REGIMES = (GOOD, SHORT, OVER, POOR_HAY)
RAMP_D, LASTS_D = 5, 40
SEVERITY = {GOOD: (0.0,), SHORT: (0.12, 0.2, 0.3, 0.4), OVER: (0.2, 0.35, 0.5), POOR_HAY: (0.12, 0.2, 0.3)}


@dataclass(frozen=True, slots=True)
class Regime:
    """`short` and `over` change what is planned, fed and recorded; `poor_hay` changes the hay and nobody notes it."""

    name: str
    severity: float
    start: int

    def fed(self, day: int) -> float:
        """Factor on planned amounts."""
        way = {SHORT: -1, OVER: 1}.get(self.name, 0)
        return 1 + way * self.severity * self._along(day)

    def hay(self, day: int) -> float:
        """Factor on the energy in hay."""
        return 1 - self.severity * self._along(day) if self.name == POOR_HAY else 1.0

    def _along(self, day: int) -> float:
        if not self.start <= day < self.start + LASTS_D:
            return 0.0
        return min(1.0, (day - self.start + 1) / RAMP_D)


def regime(rng: Random, name: str) -> Regime:
    """Starts are early, middling or late in the run, so every stage of pregnancy and milk is met."""
    return Regime(name, rng.choice(SEVERITY[name]), rng.randint(15, 75))
