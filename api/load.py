"""Turning phones away while there is more than can be taken in, before what they send is looked at.

They lose nothing by it: a phone keeps its entries, waits as long as it is told, and says nothing of a failure. Nobody
is picked out by address: a barn that comes home with thirty phones has one.
"""

from __future__ import annotations

import random
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

from herd.services.backlog import backlog_ms

from .errors import ApiError

# Pushes a web worker has let in: one is worked on, and the others, read meanwhile, wait for their turn. Several at once
# would only be in each other's way: the work is the processor's, and SQLite's lock is waited for in naps.
MOST_AT_ONCE = 3
# How long one takes, before any was measured: those turned away are told to come back one after the other.
GUESSED_S = 0.15
# Those turned away are told half of what their turn would take: a phone waits up to half as long again as it is told,
# and one that comes early is told once more, which costs less than a server that stands idle.
TOLD_SOONER = 2
STEADY = 20
LONGEST_WAIT_S = 60
# Outlooks that have been due so long: more entries would only make it longer.
BACKLOG_MS = 120_000
BACKLOG_WAIT_S = 20
ASK_AGAIN_S = 2.0
MESSAGE = "The server has its hands full: the phone keeps everything and sends it in a moment."


class Full(ApiError):
    def __init__(self, wait_s: float) -> None:
        super().__init__(503, "busy", MESSAGE)
        self.headers = {"Retry-After": str(max(1, round(wait_s)))}


class Door:
    """One web worker's count of the pushes it is taking in."""

    def __init__(self) -> None:
        self.lock = threading.Lock()
        self.desk = threading.Lock()
        self.inside = 0
        self.takes_s = GUESSED_S
        # When the last of those turned away will have had its turn.
        self.full_until = 0.0
        self.looked_at, self.behind = float("-inf"), False

    @contextmanager
    def taken_in(self) -> Iterator[None]:
        if self._behind():
            raise Full(BACKLOG_WAIT_S * (1 + random.random()))
        with self.room():
            yield

    @contextmanager
    def room(self) -> Iterator[None]:
        with self.lock:
            if self.inside >= MOST_AT_ONCE:
                raise Full(self._turn())
            self.inside += 1
        try:
            yield
        finally:
            with self.lock:
                self.inside -= 1

    @contextmanager
    def turn(self) -> Iterator[None]:
        """For what was read whole: a slow phone keeps nobody from the desk."""
        with self.desk:
            began = time.monotonic()
            try:
                yield
            finally:
                self.takes_s += (time.monotonic() - began - self.takes_s) / STEADY

    def _turn(self) -> float:
        now = time.monotonic()
        self.full_until = min(max(self.full_until, now) + self.takes_s, now + LONGEST_WAIT_S)
        return (self.full_until - now) / TOLD_SOONER + random.random()

    def _behind(self) -> bool:
        now = time.monotonic()
        if now - self.looked_at > ASK_AGAIN_S:
            self.looked_at = now
            self.behind = backlog_ms() > BACKLOG_MS
        return self.behind


door = Door()
