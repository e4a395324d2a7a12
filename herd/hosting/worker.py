"""A server's thread is not held by whoever sends a letter a minute: a request has a time to arrive in.

A proxy in front takes requests in whole and needs none of this; on a machine without one it keeps the door free.
"""

from __future__ import annotations

import socket
import time
from typing import Any

from gunicorn.workers.gthread import TConn, ThreadWorker

# A megabyte over a weak signal takes a minute; phones send smaller batches after one that failed.
ARRIVE_S, LEAVE_S = 75.0, 120.0
# Until the head of a request is there nothing has been asked: that takes no more than a few packets.
HEAD_S = 6.0


class Timed(socket.socket):
    """A phone's line: what is read must come before `until`, whatever it comes in."""

    until = 0.0

    @classmethod
    def over(cls, line: socket.socket) -> Timed:
        return cls(line.family, line.type, line.proto, fileno=line.detach())

    def recv(self, size: int, flags: int = 0) -> bytes:
        left = self.until - time.monotonic()
        if left <= 0:
            raise TimeoutError("the request took too long to arrive")
        self.settimeout(left)
        return super().recv(size, flags)

    def sendall(self, data: Any, flags: int = 0) -> None:
        self.settimeout(LEAVE_S)
        super().sendall(data, flags)

    def sendfile(self, *args: Any, **more: Any) -> int:
        self.settimeout(LEAVE_S)
        return super().sendfile(*args, **more)


class HurriedWorker(ThreadWorker):
    """Threads for many slow ones, each with an end."""

    def handle(self, conn: TConn) -> Any:
        if not isinstance(conn.sock, Timed) and not self.cfg.is_ssl:
            conn.sock = Timed.over(conn.sock)
        if isinstance(conn.sock, Timed):
            conn.sock.until = time.monotonic() + HEAD_S
        return super().handle(conn)

    def handle_request(self, req: Any, conn: TConn) -> Any:
        if isinstance(conn.sock, Timed):
            conn.sock.until = time.monotonic() + ARRIVE_S
        return super().handle_request(req, conn)
