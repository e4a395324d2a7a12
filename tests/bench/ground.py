"""A server with a generated farm in a temporary folder, and a plain HTTP caller for it."""

from __future__ import annotations

import http.client
import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.bench.big_farm import PASSWORD, PERSON, ZONE
from tests.support.live import Server
from tests.support.paths import ROOT

# Where `--beside` finds another built client.
CLIENT = "BENCH_CLIENT"


@contextmanager
def farm_of(does: int, days: int, database_url: str | None = None) -> Iterator[Server]:
    """Yields the server, not started."""
    with TemporaryDirectory(prefix="mangerline-bench-") as folder:
        server = Server(Path(folder), database_url)
        server.manage("migrate", "--verbosity", "0")
        inside(server, "big_farm", str(does), str(days))
        yield server
        server.kill()


@contextmanager
def planted() -> Iterator[Server]:
    """The same of the farm with a doe for each thing that can be done."""
    with TemporaryDirectory(prefix="mangerline-bench-") as folder:
        server = Server(Path(folder))
        server.manage("migrate", "--verbosity", "0")
        run(server, "tests.support.planted_farm", PERSON, PASSWORD, ZONE)
        yield server
        server.kill()


def inside(server: Server, module: str, *arguments: str) -> str:
    """Run a module of this package on the server's data, in a process of its own; what it prints comes back."""
    return run(server, f"tests.bench.{module}", *arguments)


def run(server: Server, module: str, *arguments: str) -> str:
    env = {**server.env, "DJANGO_SETTINGS_MODULE": "herd.settings", "MANGERLINE_LOG": "ERROR"}
    command = [sys.executable, "-m", module, *arguments]
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)
    if done.returncode:
        raise RuntimeError(f"{' '.join(command)} failed:\n{done.stderr[-3000:]}")
    return done.stdout


class Caller:
    """One kept-alive connection, signed in."""

    def __init__(self, server: Server) -> None:
        self.line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=120)
        self.cookies: dict[str, str] = {}
        self.csrf = str(self.call("GET", "/api/session")["csrf"])
        facts = self.call("POST", "/api/session", {"name": PERSON, "password": PASSWORD})
        self.csrf, self.person, self.farm = facts["csrf"], facts["person"]["id"], facts["farms"][0]

    def call(self, method: str, path: str, body: Any = None) -> Any:
        text = body if isinstance(body, bytes | None) else json.dumps(body).encode()
        headers = {"Content-Type": "application/json", "Cookie": "; ".join(f"{k}={v}" for k, v in self.cookies.items())}
        self.line.request(method, path, text, {**headers, "X-CSRFToken": getattr(self, "csrf", "")})
        reply = self.line.getresponse()
        answer = reply.read()
        for cookie in reply.headers.get_all("Set-Cookie") or []:
            name, _, value = cookie.partition(";")[0].partition("=")
            self.cookies[name] = value
        if reply.status != 200:
            raise RuntimeError(f"{method} {path}: {reply.status} {answer[:300]!r}")
        return json.loads(answer)

    def push(self, device: str, events: list[bytes], cursor: dict[str, int], now: int) -> Any:
        head = {"device": device, "app": "0.1.0", "schema": 1, "epoch": self.farm["epoch"], "now": now}
        text = json.dumps({**head, "cursor": cursor}).encode()
        path = f"/api/farms/{self.farm['id']}/events"
        return self.call("POST", path, text[:-1] + b',"events":[' + b",".join(events) + b"]}")
