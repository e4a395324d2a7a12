"""A phone as it writes events: ids that sort by time, a hybrid clock that never runs back, the bytes it would push."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any
from uuid import UUID

import msgspec

from herd.state.kinds import KINDS
from herd.state.order import Event

_encode = msgspec.json.Encoder().encode


def uuid7(ms: int, rng: Random) -> str:
    """A time-ordered id; its random bits come from the generator, so one seed gives one farm."""
    return str(UUID(int=ms << 80 | 0x7 << 76 | rng.getrandbits(12) << 64 | 0b10 << 62 | rng.getrandbits(62)))


@dataclass(slots=True)
class Phone:
    """One person's phone. Entries must be written in the order in which they were entered."""

    author: str
    device: str
    rng: Random
    ms: int = 0
    counter: int = 0

    def write(self, kind: str, subject: str, data: dict[str, Any], when: tuple[str, str, int, int]) -> Event:
        """`when` is (farm date, slot, happened ms, entered ms)."""
        on, slot, happened, entered = when
        return {
            "id": uuid7(entered, self.rng),
            "kind": kind,
            "v": KINDS[kind].newest,
            "subject": subject,
            "on": on,
            "slot": slot,
            "happened": happened,
            "entered": entered,
            "hlc": self._tick(entered),
            "author": self.author,
            "device": self.device,
            "data": data,
        }

    def _tick(self, now: int) -> str:
        self.ms, self.counter = (now, 0) if now > self.ms else (self.ms, self.counter + 1)
        return f"{self.ms:012x}-{self.counter:04x}-{self.device[:8]}"


def new_phone(author: str, rng: Random) -> Phone:
    return Phone(author, str(UUID(int=rng.getrandbits(128), version=4)), rng)


def as_pushed(event: Event) -> bytes:
    """The text a phone stores once and sends as it stands."""
    return _encode(event)
