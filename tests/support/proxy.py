"""A go-between that a browser talks to in place of the server, and that spoils the requests a test asks it to spoil."""

from __future__ import annotations

import http.client
import socket
import threading
from collections.abc import Callable
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

from tests.support.live import Server

HOP = {"connection", "keep-alive", "transfer-encoding", "content-length", "server", "date"}
PORTAL = b"<!doctype html><title>Barn wifi</title><p>Accept our terms to go on."


class Exchange(BaseHTTPRequestHandler):
    """One request. It speaks HTTP/1.0, since Chromium itself repeats a request lost on a kept-alive connection."""

    proxy: Proxy

    def handle_any(self) -> None:
        self.body = self.rfile.read(int(self.headers.get("Content-Length") or 0))
        fault = self.proxy.fault_for(self.command, self.path)
        try:
            fault(self) if fault else self.answer(*self.forward())
        except (ConnectionError, http.client.HTTPException, OSError):
            self.hang_up()

    do_GET = do_POST = do_DELETE = handle_any  # noqa: N815

    def forward(self) -> tuple[int, list[tuple[str, str]], bytes]:
        """The server's own answer: when this returns, whatever the request did is done."""
        with_server = http.client.HTTPConnection("127.0.0.1", self.proxy.server.port, timeout=30)
        headers = {key: value for key, value in self.headers.items() if key.lower() not in HOP - {"content-length"}}
        with_server.request(self.command, self.path, self.body or None, headers)
        reply = with_server.getresponse()
        kept = [(key, value) for key, value in reply.getheaders() if key.lower() not in HOP]
        body = reply.read()
        with_server.close()
        return reply.status, kept, body

    def answer(self, status: int, headers: list[tuple[str, str]], body: bytes) -> None:
        self.send_response(status)
        for key, value in headers:
            self.send_header(key, value)
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def hang_up(self) -> None:
        self.close_connection = True
        self.connection.shutdown(socket.SHUT_RDWR)

    def log_message(self, *_: object) -> None:
        """Silent."""


Fault = Callable[[Exchange], None]


def portal(exchange: Exchange) -> None:
    """Somebody else's page, with status 200."""
    exchange.answer(200, [("Content-Type", "text/html")], PORTAL)


def status(number: int, *, ours: bool = True) -> Fault:
    """An error in our own server's shape, or a web server's page that stands before it."""
    mark = [("Content-Type", "application/json"), ("X-Mangerline", "1")] if ours else [("Content-Type", "text/html")]
    body = b'{"code": "made_up", "message": "", "where": ""}' if ours else b"<p>No."
    return lambda exchange: exchange.answer(number, mark, body)


def cut(exchange: Exchange) -> None:
    """The request never reaches the server."""
    exchange.hang_up()


def lost_answer(exchange: Exchange) -> None:
    """The server has done it, and nobody on the phone learns of it."""
    exchange.forward()
    exchange.hang_up()


def killed_after_commit(exchange: Exchange) -> None:
    """The server has done it and is gone before the answer is."""
    exchange.forward()
    exchange.proxy.server.kill()
    exchange.hang_up()


class Proxy:
    """
    >>> with Proxy(server) as proxy: page.goto(proxy.url); proxy.spoil("/events", cut)
    """

    def __init__(self, server: Server) -> None:
        self.server = server
        self.met = threading.Semaphore(0)
        self._faults: list[tuple[str, Fault, int]] = []
        handler = type("Bound", (Exchange,), {"proxy": self})
        self._http = ThreadingHTTPServer(("127.0.0.1", 0), handler)

    @property
    def url(self) -> str:
        return f"http://localhost:{self._http.server_address[1]}"

    def spoil(self, path_end: str, fault: Fault, times: int = 1_000_000) -> None:
        """Requests whose path (without query) ends so meet FAULT, the next TIMES times."""
        self._faults.append((path_end, fault, times))

    def mend(self) -> None:
        self._faults.clear()

    def fault_for(self, method: str, path: str) -> Fault | None:
        for i, (path_end, fault, times) in enumerate(self._faults):
            if times and path.partition("?")[0].endswith(path_end):
                self._faults[i] = (path_end, fault, times - 1)
                self.met.release()
                return fault
        return None

    def wait_until_met(self, timeout_s: float = 20) -> None:
        """Until one more request has met its fault."""
        assert self.met.acquire(timeout=timeout_s), "no request met the fault"

    def __enter__(self) -> Proxy:
        threading.Thread(target=self._http.serve_forever, daemon=True).start()
        return self

    def __exit__(self, *_: object) -> None:
        self._http.shutdown()
        self._http.server_close()
