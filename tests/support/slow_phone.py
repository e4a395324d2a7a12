"""Connections that send a byte now and then, and one that is in order."""

from __future__ import annotations

import http.client
import json
import socket
import ssl
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

Open = Any


def line_to(port: int, name: str, context: ssl.SSLContext | None) -> Any:
    line = socket.create_connection(("127.0.0.1", port), timeout=30)
    return context.wrap_socket(line, server_hostname=name) if context else line


class Good:
    """A phone that is signed in and answered at once."""

    def __init__(self, port: int, name: str, context: ssl.SSLContext | None) -> None:
        self.port, self.name, self.context = port, name, context
        self.cookies: dict[str, str] = {}
        self.csrf = ""

    def ask(self, method: str, path: str, body: Any = None) -> tuple[int, Any, float]:
        began = time.monotonic()
        line = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        line.sock = line_to(self.port, self.name, self.context)
        line.request(method, path, None if body is None else json.dumps(body), self.headers())
        reply = line.getresponse()
        said = reply.read()
        for header, value in reply.getheaders():
            if header.lower() == "set-cookie":
                key, _, rest = value.partition("=")
                self.cookies[key] = rest.partition(";")[0]
        line.close()
        is_json = "json" in (reply.getheader("Content-Type") or "")
        return reply.status, json.loads(said) if is_json else said, time.monotonic() - began

    def headers(self) -> dict[str, str]:
        scheme = "https" if self.context else "http"
        cookies = "; ".join(f"{key}={value}" for key, value in self.cookies.items())
        return {
            "Host": self.name,
            "Referer": f"{scheme}://{self.name}/",
            "Content-Type": "application/json",
            "Cookie": cookies,
            "X-CSRFToken": self.csrf,
        }

    def sign_in(self, name: str, password: str) -> str:
        """The first farm's id."""
        self.csrf = self.ask("GET", "/api/session")[1]["csrf"]
        status, said, _ = self.ask("POST", "/api/session", {"name": name, "password": password})
        assert status == 200, said
        self.csrf = said["csrf"]
        return str(said["farms"][0]["id"])


@contextmanager
def slow_ones(good: Good, count: int, head: bytes) -> Iterator[list[Any]]:
    """`count` connections that have sent `head` and go on with a byte a second."""
    lines, stop = [line_to(good.port, good.name, good.context) for _ in range(count)], threading.Event()
    for line in lines:
        line.sendall(head)

    def drip() -> None:
        while not stop.wait(1.0):
            for line in lines:
                try:
                    line.send(b" ")
                except OSError:
                    continue

    thread = threading.Thread(target=drip, daemon=True)
    thread.start()
    time.sleep(1.5)
    try:
        yield lines
    finally:
        stop.set()
        thread.join(5)
        for line in lines:
            line.close()


def half_a_push(good: Good, farm: str) -> bytes:
    """A push of somebody signed in, whose body has only begun."""
    head = f"POST /api/farms/{farm}/events HTTP/1.1\r\nContent-Length: 400000\r\n"
    return (head + "".join(f"{key}: {value}\r\n" for key, value in good.headers().items()) + "\r\n{").encode()
