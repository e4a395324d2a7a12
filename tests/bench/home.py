"""(viii) 200 phones come home at once with 200 entries each, scores among them: as one farm and as 50.

What a phone does it does here: batches of its own size, packed; a 503 is obeyed as frontend/src/core/phone/sync does,
an answer that does not come in 25 s is asked for again.
"""

from __future__ import annotations

import asyncio
import gzip
import json
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from statistics import median, quantiles
from tempfile import TemporaryDirectory
from typing import Any
from uuid import uuid4

import brotli

from tests.bench.ground import inside
from tests.bench.push import body_of
from tests.bench.table import Row
from tests.support.live import Server
from tests.support.postgres import NoPostgres, postgres

PHONES, ENTRIES, FARMS = 200, 200, 50
A_BATCH, A_BATCH_BYTES = 200, 64_000
GIVES_UP_S = 25
CSRF = "c" * 32
LONGEST_S = 300


def rows(small: bool) -> Iterator[Row]:
    sizes = (8, 20, 2) if small else (PHONES, ENTRIES, FARMS)
    yield from on_database("sqlite", None, sizes)
    try:
        with postgres() as url:
            yield from on_database("postgres", url, sizes)
    except NoPostgres as lacking:
        yield Row("home", f"postgres: {lacking}", 0, "", "not measured")


def on_database(name: str, url: str | None, sizes: tuple[int, int, int]) -> Iterator[Row]:
    phones, entries, farms = sizes
    for count in (1, farms):
        with served(url, count) as (server, made):
            crowd = Crowd(server.port, [Phone(made[n % count], n, entries) for n in range(phones)])
            asyncio.run(crowd.come_home())
            drained_s = drained(server, crowd)
            yield from crowd.told(
                f"{phones} x {entries}, {count} {'farm' if count == 1 else 'farms'}, {name}", drained_s
            )


@contextmanager
def served(url: str | None, farms: int) -> Iterator[tuple[Server, list[dict[str, Any]]]]:
    """As `up` serves it, with its own pool of workers."""
    with TemporaryDirectory(prefix="mangerline-bench-") as folder:
        server = Server(Path(folder), url)
        if url:
            server.manage("flush", "--no-input") if "herd_farm" in tables(server) else None
        server.manage("migrate", "--verbosity", "0")
        made = json.loads(inside(server, "crowd", str(farms)))
        server.start_up()
        try:
            yield server, made
        finally:
            server.kill()


def tables(server: Server) -> str:
    ask = "from django.db import connection; print(connection.introspection.table_names())"
    return server.manage("shell", "-c", ask)


def drained(server: Server, crowd: Crowd) -> float:
    """How long after the last entry until no outlook is due any more."""
    began = time.monotonic()
    while time.monotonic() - began < LONGEST_S:
        if server.manage("shell", "--no-imports", "-c", IDLE).strip().endswith("0"):
            return time.monotonic() - began
        time.sleep(0.5)
    return float("inf")


IDLE = "from herd.models import Folded; print(Folded.objects.filter(kind='doe', stale=True).count())"


@dataclass
class Phone:
    """One phone's morning, written before the clock starts."""

    made: dict[str, Any]
    n: int
    entries: int
    device: str = field(default_factory=lambda: str(uuid4()))

    def bodies(self) -> list[bytes]:
        rng = Random(self.n)
        events = [
            body_of(self.made["does"], self.made["person"], self.device, i, rng, watched=False)
            for i in range(self.entries)
        ]
        batches: list[list[bytes]] = [[]]
        for event in events:
            if len(batches[-1]) == A_BATCH or sum(len(one) + 1 for one in batches[-1]) + len(event) > A_BATCH_BYTES:
                batches.append([])
            batches[-1].append(event)
        return [self.body(batch) for batch in batches]

    def body(self, batch: list[bytes]) -> bytes:
        head = {"device": self.device, "app": "0.1.0", "schema": 1, "epoch": 1, "now": int(time.time() * 1000)}
        text = json.dumps({**head, "cursor": {"seq": 40, "outlook_rev": 21}}).encode()
        return gzip.compress(text[:-1] + b',"events":[' + b",".join(batch) + b"]}", 6)

    def request(self, body: bytes) -> bytes:
        head = (
            f"POST /api/farms/{self.made['farm']}/events HTTP/1.1\r\nHost: localhost\r\n"
            f"Cookie: mangerline_session={self.made['session']}; mangerline_csrf={CSRF}\r\nX-CSRFToken: {CSRF}\r\n"
            "Content-Type: application/json\r\nContent-Encoding: gzip\r\nAccept-Encoding: gzip, br\r\n"
            f"Content-Length: {len(body)}\r\n\r\n"
        )
        return head.encode() + body


class Crowd:
    def __init__(self, port: int, phones: list[Phone]) -> None:
        self.port, self.phones = port, phones
        self.took: list[float] = []
        self.busy = self.late = self.broken = self.again = self.accepted = 0
        self.wall = 0.0

    async def come_home(self) -> None:
        ready = [(phone, phone.bodies()) for phone in self.phones]
        began = time.perf_counter()
        await asyncio.gather(*(self.send(phone, bodies) for phone, bodies in ready))
        self.wall = time.perf_counter() - began

    async def send(self, phone: Phone, bodies: list[bytes]) -> None:
        dice, failures = Random(phone.n), 0
        line: tuple[asyncio.StreamReader, asyncio.StreamWriter] | None = None
        while bodies:
            began = time.perf_counter()
            try:
                line = line or await asyncio.wait_for(asyncio.open_connection("127.0.0.1", self.port), GIVES_UP_S)
                status, wait_s, answers, closes = await asyncio.wait_for(
                    self.ask(line, phone.request(bodies[0])), GIVES_UP_S
                )
            except TimeoutError:
                self.late += 1
                status, wait_s, answers, closes = 0, 0, [], True
            except (ConnectionError, asyncio.IncompleteReadError, ValueError):
                self.broken += 1
                status, wait_s, answers, closes = 0, 0, [], True
            self.took.append(time.perf_counter() - began)
            # A browser opens another line where the server has let go of an idle one.
            if line and (closes or status != 200):
                line[1].close()
                line = None
            if status == 200:
                self.count(answers)
                bodies.pop(0)
                failures = 0
            else:
                self.busy += status in (429, 503)
                failures += 1
                await asyncio.sleep(self.pause(dice, failures, wait_s))
        if line:
            line[1].close()

    def pause(self, dice: Random, failures: int, wait_s: float) -> float:
        if wait_s:
            return wait_s * (1 + dice.random() / 2)
        return min(300.0, 2.0 ** (failures - 1)) * (0.5 + dice.random() / 2)

    async def ask(self, line: Any, request: bytes) -> tuple[int, float, list[dict[str, Any]], bool]:
        reader, writer = line
        writer.write(request)
        await writer.drain()
        head = (await reader.readuntil(b"\r\n\r\n")).decode().lower()
        status = int(head.split(" ")[1])
        lengths = [row.split(":")[1] for row in head.split("\r\n") if row.startswith("content-length:")]
        body = await reader.readexactly(int(lengths[0]))
        waits = [row.split(":")[1] for row in head.split("\r\n") if row.startswith("retry-after:")]
        answers = []
        if status == 200:
            text = brotli.decompress(body) if "content-encoding: br" in head else body
            answers = json.loads(text)["answers"]
        return status, float(waits[0]) if waits else 0.0, answers, "connection: close" in head

    def count(self, answers: list[dict[str, Any]]) -> None:
        states = [answer["st"] for answer in answers]
        self.again += states.count("dup")
        self.accepted += states.count("ok") + states.count("parked")
        if wrong := [answer for answer in answers if answer["st"] == "rejected"]:
            raise RuntimeError(f"refused: {wrong[0]}")

    def told(self, what: str, drained_s: float) -> Iterator[Row]:
        total = self.accepted + self.again
        p95 = quantiles(self.took, n=20)[-1]
        note = f"p50 {median(self.took):.2f} s, p95 {p95:.2f} s, of {len(self.took)} requests"
        yield Row("home", what, self.wall, "s", note)
        cut = f"{self.late} time-outs, {self.broken} broken, {self.busy} told to wait, {100 * self.again / total:.1f} %"
        yield Row("home", "  not answered at once", self.late + self.busy, "", f"{cut} sent twice; {total} entries")
        yield Row("home", "  outlooks up to date after", drained_s, "s", "counted from the last answer")
