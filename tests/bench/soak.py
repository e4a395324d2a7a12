"""(x) A barn's ordinary hours, much faster: phones push a few entries, pull, start anew now and then and open the page,
for twenty minutes, while the memory of the server and its worker is watched."""

from __future__ import annotations

import gzip
import json
import threading
import time
import urllib.error
import urllib.request
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from random import Random
from statistics import mean
from typing import Any

from tests.bench.home import CSRF, Phone, served
from tests.bench.table import Row, p95
from tests.support.live import Server

PHONES, FARMS, MINUTES = 12, 3, 20.0
LOOKS_EVERY_S = 5.0
GIVES_UP_S = 25


def rows(small: bool) -> Iterator[Row]:
    minutes, phones, farms = (0.05, 3, 1) if small else (MINUTES, PHONES, FARMS)
    with served(None, farms) as (server, made):
        crowd = [Soaked(server, made[n % farms], n) for n in range(phones)]
        memory = go_on(server, crowd, minutes)
    total: Counter[str] = sum((one.told for one in crowd), Counter())
    took = [each for one in crowd for each in one.took]
    third = max(1, len(memory) // 3)
    early, late = mean(memory[third : 2 * third] or memory), mean(memory[-third:])
    what = ", ".join(f"{n} {name}" for name, n in sorted(total.items()))
    yield Row("soak", f"{phones} phones, {minutes:g} minutes, p95 of all requests", 1000 * p95(took), "ms", what)
    yield Row(
        "soak", "memory of all processes, last third", late, "MB", f"second third {early:.0f}, at first {memory[0]:.0f}"
    )
    yield Row("soak", "  last third over the second", late / early, "x", f"{len(memory)} looks at it")


def go_on(server: Server, crowd: list[Soaked], minutes: float) -> list[float]:
    """Megabytes, one look after another."""
    end = time.monotonic() + minutes * 60
    hands = [threading.Thread(target=one.until, args=(end,)) for one in crowd]
    for hand in hands:
        hand.start()
    memory = []
    while time.monotonic() < end:
        memory.append(resident_mb(server))
        time.sleep(min(LOOKS_EVERY_S, max(0.1, end - time.monotonic())))
    for hand in hands:
        hand.join()
    return memory


def resident_mb(server: Server) -> float:
    """Of everything the server started, shared pages counted once: the sum of proportional shares."""
    assert server.process is not None
    group, total_kb = server.process.pid, 0
    for path in Path("/proc").glob("[0-9]*"):
        try:
            if int((path / "stat").read_text().rsplit(")", 1)[1].split()[2]) != group:
                continue
            shares = (path / "smaps_rollup").read_text()
        except (OSError, IndexError):
            continue
        total_kb += sum(int(line.split()[1]) for line in shares.splitlines() if line.startswith("Pss:"))
    return total_kb / 1000


class Soaked:
    """One phone that goes on doing what phones do."""

    def __init__(self, server: Server, made: dict[str, Any], n: int) -> None:
        self.url, self.made, self.dice = server.url, made, Random(n)
        self.cursor: dict[str, Any] = {}
        self.told: Counter[str] = Counter()
        self.took: list[float] = []

    def until(self, end: float) -> None:
        while time.monotonic() < end:
            if not self.cursor or self.dice.random() < 0.02:
                self.start()
            elif self.dice.random() < 0.4:
                self.push()
            elif self.dice.random() < 0.1:
                self.call("pages", "/")
            else:
                self.pull()
            time.sleep(self.dice.uniform(0.2, 1.8))

    def start(self) -> None:
        if said := self.call("starts", f"/api/farms/{self.made['farm']}/bootstrap"):
            self.cursor = {name: said[name] for name in ("seq", "outlook_rev")}

    def pull(self) -> None:
        query = "&".join(f"{name}={value}" for name, value in self.cursor.items())
        if said := self.call("pulls", f"/api/farms/{self.made['farm']}/changes?{query}"):
            self.cursor = {name: said[name] for name in ("seq", "outlook_rev")}

    def push(self) -> None:
        phone = Phone(self.made, self.dice.randrange(1 << 30), self.dice.randint(1, 5))
        for body in phone.bodies():
            said = self.call("pushes", f"/api/farms/{self.made['farm']}/events", body)
            refused = [one for one in (said or {}).get("answers", []) if one["st"] == "rejected"]
            self.told["refused"] += len(refused)

    def call(self, what: str, path: str, body: bytes | None = None) -> dict[str, Any] | None:
        head = {"Cookie": f"mangerline_session={self.made['session']}; mangerline_csrf={CSRF}", "X-CSRFToken": CSRF}
        packed = {"Content-Type": "application/json", "Content-Encoding": "gzip"} if body else {}
        request = urllib.request.Request(self.url + path, body, {**head, **packed, "Accept-Encoding": "gzip"})
        began = time.perf_counter()
        try:
            with urllib.request.urlopen(request, timeout=GIVES_UP_S) as reply:
                text = reply.read()
                packed_back = reply.headers.get("Content-Encoding") == "gzip"
        except urllib.error.HTTPError as error:
            self.told[f"answered {error.code}"] += 1
            return None
        except (OSError, TimeoutError):
            self.told["broken"] += 1
            return None
        self.took.append(time.perf_counter() - began)
        self.told[what] += 1
        return json.loads(gzip.decompress(text) if packed_back else text) if path != "/" else None
