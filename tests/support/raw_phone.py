"""A phone that is no browser, over a real socket, and what a real server's log holds."""

from __future__ import annotations

import http.client
import json
import sqlite3
import time
from contextlib import closing
from typing import Any, cast

from tests.phones import Phone, new_id
from tests.support.live import Server

MAKE = """
from tests.people import make_people
people = make_people()
print(people.farm.id, people.ada.pk)
"""
BATCH = 60
PATIENCE_S = 120.0


class Wire:
    """A signed-in phone over a real socket."""

    def __init__(self, server: Server) -> None:
        self.server, self.cookies, self.token = server, "", ""

    def sign_in(self, name: str, password: str) -> None:
        self.token = json.loads(self.ask("GET", "/api/session"))["csrf"]
        body = json.dumps({"name": name, "password": password}).encode()
        self.token = json.loads(self.ask("POST", "/api/session", body))["csrf"]

    def ask(self, method: str, path: str, body: bytes | None = None) -> bytes:
        line = http.client.HTTPConnection("127.0.0.1", self.server.port, timeout=30)
        headers = {"Cookie": self.cookies, "X-CSRFToken": self.token, "Content-Type": "application/json"}
        line.request(method, path, body, headers)
        reply = line.getresponse()
        held = dict(pair.split("=", 1) for pair in self.cookies.split("; ") if pair)
        for name, value in reply.getheaders():
            if name.lower() == "set-cookie":
                held.update([value.split(";")[0].split("=", 1)])
        self.cookies = "; ".join(f"{name}={value}" for name, value in held.items())
        return reply.read()


def logged(server: Server) -> list[tuple[int, str]]:
    with closing(sqlite3.connect(server.folder / "mangerline.sqlite3")) as log:
        return log.execute("SELECT seq, id FROM herd_event ORDER BY seq").fetchall()


def a_batch(farm_id: str, ada_id: str, doe: str = "") -> tuple[bytes, set[str]]:
    """So many new does, or looks at one of them."""
    farm, ada = cast(Any, Stub(farm_id, 1)), cast(Any, Stub(ada_id))
    phone = Phone(farm, ada)
    look = {"fill": 2, "uneven": False}
    events = [
        phone.event("udder", doe, look) if doe else phone.record("doe", new_id(), {"name": "Ivy"}) for _ in range(BATCH)
    ]
    return json.dumps(phone.body(events)).encode(), {event["id"] for event in events}


class Stub:
    """As much of a farm or a person as an envelope needs, without a database in this process."""

    def __init__(self, pk: str, epoch: int = 0) -> None:
        self.pk = self.id = pk
        self.epoch = epoch


def push(wire: Wire, farm_id: str, body: bytes) -> bytes:
    return wire.ask("POST", f"/api/farms/{farm_id}/events", body)


def answered(wire: Wire, farm_id: str, body: bytes) -> list[dict[str, Any]]:
    """What a phone does: told to wait, it waits and sends again."""
    until = time.monotonic() + PATIENCE_S
    while "answers" not in (told := json.loads(push(wire, farm_id, body))):
        if told["code"] not in ("busy", "full") or time.monotonic() > until:
            raise AssertionError(f"not taken: {told}")
        time.sleep(0.5)
    return list(told["answers"])


def lost_answer(wire: Wire, farm_id: str, body: bytes) -> Any:
    try:
        return push(wire, farm_id, body)
    except (http.client.HTTPException, OSError):
        return None
