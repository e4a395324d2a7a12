"""(iv) 1,000 events pushed as a phone does, against raw executemany of the same rows and against one POST an event."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from dataclasses import dataclass
from random import Random
from typing import Any
from uuid import uuid4

from tests.bench.ground import Caller, farm_of, inside
from tests.bench.table import Row
from tests.support.live import Server
from tests.support.postgres import postgres

DOES, DAYS = 20, 10
A_BATCH = 200
# The server takes 120 pushes a minute from one phone.
POSTS_A_PHONE = 100


def rows(events: int) -> Iterator[Row]:
    yield from on_database("sqlite", None, events)
    with postgres() as url:
        yield from on_database("postgres", url, events)


def on_database(name: str, url: str | None, events: int) -> Iterator[Row]:
    with farm_of(DOES, DAYS, url) as server:
        with server:
            batched_s = timed(server, events, A_BATCH, watched=True)
            shaping_s = timed(server, events, A_BATCH, watched=False)
            single_s = timed(server, events, 1, watched=True)
        # The last rows of the log are now the ones just pushed.
        raw_s = json.loads(inside(server, "raw_insert", str(events)))["seconds"]
    say = f"push of {events} on {name}"
    yield Row("push", f"raw executemany of {events} rows, {name}", raw_s * 1000, "ms", "one transaction, same table")
    yield Row("push", f"{say}, {A_BATCH} a POST", batched_s * 1000, "ms", f"{batched_s / raw_s:.1f} x raw")
    note = f"{shaping_s / raw_s:.1f} x raw; every outlook compiled anew"
    yield Row("push", f"{say}, scores among them", shaping_s * 1000, "ms", note)
    yield Row("push", f"{say}, one POST each", single_s * 1000, "ms", f"{single_s / batched_s:.1f} x batched")


def timed(server: Server, events: int, a_batch: int, *, watched: bool) -> float:
    caller = Caller(server)
    cursor, does = at_end(caller)
    batches = list(phones(Batch(caller, does, watched), events, a_batch))
    began = time.perf_counter()
    for device, batch in batches:
        answers = caller.push(device, batch, cursor, int(time.time() * 1000))["answers"]
        if any(answer["st"] != "ok" for answer in answers):
            raise RuntimeError(f"refused: {answers[0]}")
    return time.perf_counter() - began


def at_end(caller: Caller) -> tuple[dict[str, int], list[str]]:
    """A phone that has fetched everything: its cursor, and the does it knows."""
    start = caller.call("GET", f"/api/farms/{caller.farm['id']}/bootstrap")
    does = [entry["ev"]["subject"] for entry in start["events"] if entry["ev"]["kind"] == "doe"]
    return {"seq": start["seq"], "outlook_rev": start["outlook_rev"]}, does


@dataclass(frozen=True)
class Batch:
    """`watched`: only what is seen, which leaves every outlook as it is."""

    caller: Caller
    does: list[str]
    watched: bool


def phones(made: Batch, events: int, a_batch: int) -> Iterator[tuple[str, list[bytes]]]:
    rng, device = Random(events + a_batch), str(uuid4())
    for start in range(0, events, a_batch):
        if start % (POSTS_A_PHONE * a_batch) == 0:
            device = str(uuid4())
        count = min(a_batch, events - start)
        yield device, [event(made, device, start + i, rng) for i in range(count)]


def event(made_for: Batch, device: str, i: int, rng: Random) -> bytes:
    return body_of(made_for.does, made_for.caller.person, device, i, rng, watched=made_for.watched)


def body_of(does: list[str], person: str, device: str, i: int, rng: Random, *, watched: bool) -> bytes:
    now = int(time.time() * 1000)
    kinds: list[tuple[str, dict[str, Any]]] = [
        ("intake", {"how": "left_some", "left_pct": 25, "feed": "", "fed": ""}),
        ("udder", {"fill": i % 5, "uneven": False}),
        ("note", {"text": f"note {i}"}) if watched else ("score", {"x100": 250 + 25 * (i % 5)}),
    ]
    kind, data = kinds[i % 3]
    made = {"id": str(uuid4()), "kind": kind, "v": 1, "subject": rng.choice(does)}
    when = {"on": time.strftime("%Y-%m-%d", time.gmtime()), "slot": "morning", "happened": now, "entered": now}
    stamp = f"{now:012x}-{i % 65536:04x}-{device[:8]}"
    return json.dumps({**made, **when, "hlc": stamp, "author": person, "device": device, "data": data}).encode()
