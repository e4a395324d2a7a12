"""Days she may have settled on, of a doe of whom nothing is known but her days with the buck."""

from __future__ import annotations

from herd.science.dates.conception import Evidence, conception_chances
from herd.science.dates.gestation import Chances


def exposed(window_d: int) -> Chances:
    return conception_chances(Evidence(((0, window_d - 1, False),)))
