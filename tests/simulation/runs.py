"""Many farms in every regime, on a couple of cores."""

from __future__ import annotations

from collections.abc import Iterable
from multiprocessing import get_context

from .farm import DAYS, Row, run_farm
from .regimes import REGIMES

Job = tuple[int, int, str, tuple[str, ...], int, int]


def run_many(
    seed: int,
    farms: int,
    cores: int = 2,
    regimes: Iterable[str] = REGIMES,
    known: Iterable[str] = (),
    days: int = DAYS,
    every: int = 1,
) -> list[Row]:
    """Rows of every farm in every regime, in a fixed order whatever the cores."""
    wanted: list[Job] = [(seed, farm, name, tuple(known), days, every) for name in regimes for farm in range(farms)]
    if cores < 2:
        return [row for job in wanted for row in one(job)]
    with get_context("spawn").Pool(cores) as pool:
        return [row for rows in pool.imap(one, wanted, chunksize=1) for row in rows]


def one(job: Job) -> list[Row]:
    seed, farm, name, known, days, every = job
    return run_farm(seed, farm, name, frozenset(known), days, every)
