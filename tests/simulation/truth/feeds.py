"""The feeds of the simulated barns as they truly are; the phone only knows what its keeper calls them.

ME and NDF per kg of dry matter by the DLG tables of hay and grain for ruminants, recalled; a bought hay lies 10 % about
its kind (Preston: energy of a feed +/-10 %), a test 4 % about the hay. Protein, Ca and P, g per kg: textbook means,
recalled.
"""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

HAY_SD, TEST_SD, GRAIN_SD = 0.10, 0.04, 0.03


@dataclass(frozen=True, slots=True)
class Kind:
    """What a sort of feed is on average; `called` is the entry of the phone's list its keeper picks."""

    called: tuple[str, ...]
    sort: str
    kj: float
    ndf: float
    dm: float
    cp: float
    ca: float
    p: float


KINDS = {
    "grass_poor": Kind(("prairie_hay", "grass_hay_general"), "grass", 7500.0, 680.0, 0.89, 70.0, 4.0, 1.7),
    "grass_fair": Kind(
        ("grass_hay_general", "timothy_hay_mid", "brome_hay"), "grass", 8400.0, 640.0, 0.88, 95.0, 4.8, 2.2
    ),
    "grass_rich": Kind(("orchardgrass_hay_early", "timothy_hay_early"), "grass", 9100.0, 570.0, 0.88, 130.0, 5.0, 2.8),
    "mixed": Kind(("alfalfa_grass_hay_50",), "mixed", 8700.0, 540.0, 0.88, 140.0, 8.5, 2.4),
    "legume_poor": Kind(("alfalfa_hay_full", "alfalfa_hay_mature"), "legume", 8000.0, 530.0, 0.88, 150.0, 12.0, 2.1),
    "legume_rich": Kind(("alfalfa_hay_early", "alfalfa_hay_mid"), "legume", 9000.0, 450.0, 0.89, 190.0, 14.0, 2.5),
    "barley": Kind(("barley_grain",), "grain", 12900.0, 190.0, 0.88, 120.0, 0.6, 3.8),
    "oats": Kind(("oats_grain",), "grain", 11500.0, 300.0, 0.88, 120.0, 0.9, 3.6),
    "maize": Kind(("corn_grain",), "grain", 13600.0, 110.0, 0.88, 95.0, 0.3, 3.0),
}


@dataclass(frozen=True, slots=True)
class Feed:
    """A lot of hay or a bag of grain in the barn. `id` is its name in entries; `usual_kj` is of its kind, `tested_kj`
    what a laboratory wrote."""

    id: str
    called: str
    sort: str
    kj: float
    ndf: float
    dm: float
    cp: float
    ca: float
    p: float
    usual_kj: float
    tested_kj: float = 0.0


def bought(rng: Random, name: str, kind: str, tested: bool) -> Feed:
    of = KINDS[kind]
    grain = of.sort == "grain"
    factor = min(1.25, max(0.75, rng.gauss(1, GRAIN_SD if grain else HAY_SD)))
    kj, called = of.kj * factor, rng.choice(of.called)
    # richer hay of a sort is leafier
    ndf = of.ndf if grain else of.ndf * factor**-0.8
    lab = kj * rng.gauss(1, TEST_SD) if tested and not grain else 0.0
    return Feed(called if grain else name, called, of.sort, kj, ndf, of.dm, of.cp, of.ca, of.p, of.kj, lab)
