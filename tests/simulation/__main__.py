"""The tables; the same seeds, the same answer.

`python -m tests.simulation [--farms N] [--seed S] [--seeds K] [--cores C] [--every D]`
"""

from __future__ import annotations

import argparse
import time
from dataclasses import replace

from .regimes import GOOD
from .runs import run_many
from .tables import alarms, calibration, codes, equal, finding, parts_of_error


def main() -> None:
    ask = argparse.ArgumentParser(prog="python -m tests.simulation")
    ask.add_argument("--farms", type=int, default=20, help="farms in each regime")
    ask.add_argument("--seed", type=int, default=1)
    ask.add_argument("--seeds", type=int, default=1, help="how many from that seed on, taken together")
    ask.add_argument("--cores", type=int, default=2)
    ask.add_argument("--every", type=int, default=1, help="days between looks at the phone")
    given = ask.parse_args()
    began = time.monotonic()
    rows = [
        replace(row, farm=row.farm + given.farms * turn)
        for turn in range(given.seeds)
        for row in run_many(given.seed + turn, given.farms, given.cores, every=given.every)
    ]
    days = len(rows)
    took = time.monotonic() - began
    print(f"{given.farms} farms in each regime, {given.seeds} from seed {given.seed}, {days} doe-days, {took:.0f} s")
    good = [row for row in rows if row.regime == GOOD]
    parts = (
        ("Calibration, usual good regime", calibration(good)),
        ("Where the error comes from, usual good regime", parts_of_error(good)),
        ("Calibration, all regimes", calibration(rows)),
        ("False alarms", alarms(rows)),
        ("Equal detection", equal(rows)),
        ("Detection", finding(rows)),
        ("Prompts", codes(rows)),
    )
    for title, text in parts:
        print(f"\n{title}\n{text}")


if __name__ == "__main__":
    main()
