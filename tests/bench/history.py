"""(ix) What one entry, a pull and a new phone's start cost after sixty days, two years and seventeen."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.bench.ground import inside
from tests.bench.table import Row
from tests.support.live import Server

# A thousand, ten thousand and a hundred thousand entries.
DAYS, SMALL = (60, 560, 5600), (3, 4)
ROUNDS = 15


def rows(small: bool) -> Iterator[Row]:
    found = [after(days, 2 if small else ROUNDS) for days in (SMALL if small else DAYS)]
    for name in found[0]:
        if name != "events":
            took = " / ".join(f"{one[name]:.1f}" for one in found)
            ratio = found[-1][name] / found[0][name]
            counts = " / ".join(f"{one['events']:.0f}" for one in found)
            yield Row("history", f"{name}, most over fewest", ratio, "x", f"{took} ms of CPU at {counts} entries")


def after(days: int, rounds: int) -> dict[str, float]:
    with TemporaryDirectory(prefix="mangerline-bench-") as folder:
        server = Server(Path(folder))
        server.manage("migrate", "--verbosity", "0")
        found: dict[str, float] = json.loads(inside(server, "long_farm", str(days), str(rounds)))
        return found
