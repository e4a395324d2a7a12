"""`python -m tests.bench` measures everything and prints a table; `--small` only shows that it runs. Nothing is written
into the project but the built client, which git ignores."""

from __future__ import annotations

import argparse
import json
import os
import time
from collections.abc import Iterator

from frontend import client_build
from tests.bench import acts, bundle, compile, history, home, in_browser, push, rounds, soak
from tests.bench.ground import farm_of, inside
from tests.bench.table import Row, show

PARTS = ("bundle", "phone", "browser", "acts", "server", "compile", "push", "home", "history", "soak")


def server(does: int, days: int) -> Iterator[Row]:
    with farm_of(does, days) as made:
        found = json.loads(inside(made, "idle"))
    pull, one, judged = found["pull"], found["compiling"], found["evaluating"]
    yield Row("pull", "idle farm: queries", pull["queries"], "", f"{does} does, {days} days")
    yield Row("pull", "idle farm: body", pull["bytes"], "bytes", f"{pull['ms']:.1f} ms in process")
    packed = f"{pull['bootstrap_gzip'] / 1000:.0f} kB gzip"
    yield Row("pull", "a new phone's start", pull["bootstrap"] / 1000, "kB", packed)
    yield Row("compile", "a doe, median", one["ms"], "ms", f"slowest {one['most_ms']:.1f} ms")
    of_it = (
        f"{judged['handed_ms']:.1f} ms of it handing over; {judged['first_ms']:.0f} ms the first, engine's start too"
    )
    yield Row("evaluate", "the farm from Python, median", judged["ms"], "ms", of_it)
    yield Row("compile", "her outlook, median", one["bytes"] / 1000, "kB", f"{one['gzip'] / 1000:.1f} kB gzip")


WINDOW_D = 60


def rows(parts: list[str], small: bool, days: int = WINDOW_D, beside: str = "") -> Iterator[Row]:
    does, days, events, opens, taps = (12, 8, 40, 1, 3) if small else (60, days, 1000, 7, 40)
    if "bundle" in parts:
        yield from bundle.rows()
    if "phone" in parts:
        yield from rounds.rows((does, days), opens, taps // 4 + 1, beside)
    if "browser" in parts:
        yield from in_browser.rows(does, days, opens, taps)
    if "acts" in parts:
        yield from acts.rows(does, days, taps, small)
    if "server" in parts:
        yield from server(does, days)
    if "compile" in parts:
        yield from compile.rows(does)
    if "push" in parts:
        yield from push.rows(events)
    if "home" in parts:
        yield from home.rows(small)
    if "history" in parts:
        yield from history.rows(small)
    if "soak" in parts:
        yield from soak.rows(small)


def main() -> None:
    parser = argparse.ArgumentParser(prog="python -m tests.bench", description=__doc__)
    parser.add_argument("parts", nargs="*", help=f"of {', '.join(PARTS)}; all when none is named")
    parser.add_argument("--small", action="store_true", help="tiny sizes: shows that it runs, measures nothing")
    parser.add_argument("--days", type=int, default=WINDOW_D, help="days of records on the server; 730 is two years")
    parser.add_argument("--beside", default="", help="another built client, measured by `phone` in the same rounds")
    asked = parser.parse_args()
    client_build.build()
    began = time.monotonic()
    print(show(list(rows(asked.parts or list(PARTS), asked.small, asked.days, asked.beside))))
    load = " ".join(f"{one:.1f}" for one in os.getloadavg())
    print(f"took {time.monotonic() - began:.0f} s; load of the machine at the end {load}, {os.cpu_count()} cores")


if __name__ == "__main__":
    main()
