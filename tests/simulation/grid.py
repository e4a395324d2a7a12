"""Farms of the grid lived through, each evening looked at as a phone would."""

from __future__ import annotations

from collections.abc import Iterable
from multiprocessing import get_context

from .barn import live_day
from .days import LOOKED_D, WARM_UP_D, on
from .keeper import Keeper
from .phone import Phone
from .rows import Row, row
from .sample import DOES, farm


def run_farm(seed: int, number: int) -> list[Row]:
    keeper, phone, rows = Keeper(farm(seed, number)), Phone(), list[Row]()
    for day in range(-WARM_UP_D, LOOKED_D):
        live_day(keeper, day)
        if day < 0:
            continue
        said = phone.look(keeper.log.events, day, on(day))
        for doe in keeper.farm.does:
            rows.append(row(keeper, doe, day, said))
            keeper.heard(doe.name, rows[-1].code, day)
    return rows


def run(seeds: Iterable[int], does: int, cores: int = 1) -> list[Row]:
    """Rows of so many does of each seed, in a fixed order whatever the cores."""
    jobs = [(seed, number) for seed in seeds for number in range(-(-does // DOES))]
    if cores < 2:
        return [found for job in jobs for found in run_farm(*job)]
    with get_context("spawn").Pool(cores) as pool:
        return [found for rows in pool.starmap(run_farm, jobs, chunksize=1) for found in rows]
