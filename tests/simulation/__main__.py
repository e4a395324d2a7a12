"""The table; the same seeds, the same answer. All four parts unless one is named.

`python -m tests.simulation [grid|leads|acts|watch] [--does N] [--each N] [--seed S] [--seeds K] [--cores C] [--show]`
"""

from __future__ import annotations

import argparse
import time

from .acts import run_acts
from .acts_report import acts_table, shown_cases
from .grid import run
from .leads import lead_table, run_leads
from .phone import built
from .report import about, grid_table, shown
from .watch_report import report

# Thresholds may be tried on the first; what is reported comes from the second, and nobody tunes on those.
WATCHED = 10_000
FITTING, REPORTING = range(1, 21), 101


def main() -> None:
    ask = argparse.ArgumentParser(prog="python -m tests.simulation")
    ask.add_argument("part", nargs="?", default="all", choices=("all", "grid", "leads", "acts", "watch"))
    ask.add_argument("--does", type=int, default=600, help="does of each seed")
    ask.add_argument("--each", type=int, default=12, help="does of each state and scenario of the lead times")
    ask.add_argument("--seed", type=int, default=REPORTING, help="1 to 20 for fitting, 101 and up for reporting")
    ask.add_argument("--seeds", type=int, default=1, help="how many from that seed on, taken together")
    ask.add_argument("--cores", type=int, default=1)
    ask.add_argument("--show", action="store_true", help="the does behind what is missed and what is told wrongly")
    given = ask.parse_args()
    built()
    seeds = range(given.seed, given.seed + given.seeds)
    began = time.monotonic()
    print(f"seeds {seeds[0]} to {seeds[-1]}, {purpose(seeds)}")
    if given.part in ("all", "grid"):
        rows = run(seeds, given.does, given.cores)
        print(f"{about(rows)}, {time.monotonic() - began:.0f} s\n{grid_table(rows)}")
        if given.show:
            print(shown(rows))
    if given.part in ("all", "leads"):
        print(lead_table(run_leads(seeds, given.each)))
    if given.part in ("all", "acts"):
        cases = run_acts(seeds, given.does, given.cores)
        print(acts_table(cases))
        if given.show:
            print(shown_cases(cases))
    if given.part in ("all", "watch"):
        for limit_h in (2.0, 3.0):
            print(report(given.seed, WATCHED if given.part == "all" else given.does, limit_h))
    print(f"\n{time.monotonic() - began:.0f} s")


def purpose(seeds: range) -> str:
    if all(seed in FITTING for seed in seeds):
        return "for fitting"
    return "for reporting" if seeds[0] >= REPORTING else "neither for fitting nor for reporting"


if __name__ == "__main__":
    main()
