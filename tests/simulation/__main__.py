"""The table; the same seeds, the same answer.

`python -m tests.simulation [grid] [--does N] [--seed S] [--seeds K] [--cores C]`
"""

from __future__ import annotations

import argparse
import time

from .grid import run
from .report import about, grid_table

# Thresholds may be tried on the first; what is reported comes from the second, and nobody tunes on those.
FITTING, REPORTING = range(1, 21), 101


def main() -> None:
    ask = argparse.ArgumentParser(prog="python -m tests.simulation")
    ask.add_argument("part", nargs="?", default="grid", choices=("grid",))
    ask.add_argument("--does", type=int, default=600, help="does of each seed")
    ask.add_argument("--seed", type=int, default=REPORTING, help="1 to 20 for fitting, 101 and up for reporting")
    ask.add_argument("--seeds", type=int, default=1, help="how many from that seed on, taken together")
    ask.add_argument("--cores", type=int, default=1)
    given = ask.parse_args()
    seeds = range(given.seed, given.seed + given.seeds)
    began = time.monotonic()
    rows = run(seeds, given.does, given.cores)
    took = time.monotonic() - began
    print(f"seeds {seeds[0]} to {seeds[-1]} ({purpose(seeds)}): {about(rows)}, {took:.0f} s")
    print(grid_table(rows))


def purpose(seeds: range) -> str:
    if all(seed in FITTING for seed in seeds):
        return "for fitting"
    return "for reporting" if seeds[0] >= REPORTING else "neither for fitting nor for reporting"


if __name__ == "__main__":
    main()
