"""Times as they count when a phone's clock was wrong. Nothing is refused for its clock."""

from __future__ import annotations

import time
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from herd.state.envelope import LATEST_MS
from herd.state.kinds import known
from herd.state.order import Event
from herd.state.sift import STAMPED

from .restamped import Restamped

TRUSTED_MS = 10 * 60 * 1000
# An entry whose clock was further off than this is asked about: nobody can tell the day it belongs to.
ODD_MS = 24 * 3600 * 1000
# What is seen or done is never of a day to come; a move is dated tomorrow. A hold may be put off, a plan lies ahead.
MAY_LIE_AHEAD = frozenset((*STAMPED, "freeze"))
# Where such an entry is found in the log: it never grows old before somebody has said when it was.
UNDATED_ON = "9999-12-31"
EARLIEST_MS = 0
# A zone east of Greenwich must still have a date for the last instant.
LAST_DATED_MS = LATEST_MS - 2 * 24 * 3600 * 1000
# A stamp of ours leaves room before it in its own instant, for what the same phone wrote earlier and sends later.
MIDDLE = 0x8000


def now_ms() -> int:
    return time.time_ns() // 1_000_000


def day_of(ms: int, zone: str) -> date:
    """The farm's own date at an instant."""
    return (
        datetime.fromtimestamp(min(max(ms, EARLIEST_MS), LAST_DATED_MS) / 1000, UTC).astimezone(ZoneInfo(zone)).date()
    )


@dataclass(slots=True)
class FarmClock:
    """The farm's hybrid logical clock: never behind a stamp it has accepted, never more than the trust ahead."""

    ms: int
    counter: int

    @classmethod
    def at(cls, stamp: str) -> FarmClock:
        return cls(int(stamp[:12], 16), int(stamp[13:17], 16))

    def saw(self, stamp: str) -> None:
        self.ms, self.counter = max((self.ms, self.counter), (int(stamp[:12], 16), int(stamp[13:17], 16)))

    def tick(self, now: int, device: str) -> str:
        """A stamp greater than every one seen, in the name of the device that asked."""
        self.ms, self.counter = max(now, self.ms + 1), MIDDLE
        return self.stamp(device)

    def stamp(self, device: str = "00000000") -> str:
        return f"{self.ms:012x}-{self.counter:04x}-{device}"


@dataclass(slots=True)
class Correction:
    """What one phone's clock needs: its offset against ours, and the farm's clock for stamps from the future."""

    now: int
    offset: int
    zone: str
    clock: FarmClock
    restamped: Restamped | None = None

    def effective(self, event: Event, given: dict[str, Any] | None = None) -> dict[str, Any]:
        """The values that replace the phone's own: none for a phone whose clock is right.

        `given`: what it proves to have been given before the farm went back to a backup. A new stamp would set it above
        what people answered to it, and the phone's clock may have moved since.
        """
        if given is not None and self._possible(str(given.get("hlc", event["hlc"]))):
            self.clock.saw(str(given.get("hlc", event["hlc"])))
            return given
        eff: dict[str, Any] = {}
        offset = self._offset_of(event)
        if offset:
            eff["happened"] = min(max(event["happened"] + offset, EARLIEST_MS), LATEST_MS)
            days = (day_of(eff["happened"], self.zone) - day_of(event["happened"], self.zone)).days
            if days:
                eff["on"] = _shifted(event["on"], days)
        if offset is None or self._to_come({**event, **eff}):
            eff = {"odd": 1}
        if int(event["hlc"][:12], 16) > self.now + TRUSTED_MS:
            eff["hlc"] = self._stamp_of_ours(event)
        else:
            self.clock.saw(event["hlc"])
        return eff

    def _stamp_of_ours(self, event: Event) -> str:
        """A new one, unless what that phone wrote after it is here already."""
        later = self.restamped.before_later(event) if self.restamped else ""
        stamp = later or self.clock.tick(self.now, event["hlc"][18:])
        if self.restamped:
            self.restamped.gave(event, stamp)
        return stamp

    def _offset_of(self, event: Event) -> int | None:
        """What the phone's clock was off by when this was entered: what it is off by now, or nothing. None for neither:
        it was put right, or went wrong, in between."""
        now_off = self.offset if abs(self.offset) > TRUSTED_MS else 0
        return next((offset for offset in (now_off, 0) if self._fits(event, offset)), None)

    def _fits(self, event: Event, offset: int) -> bool:
        """Nothing is entered later than it arrives, nor long before what its own stamp shows the phone had heard of."""
        entered, seen = event["entered"] + offset, int(event["hlc"][:12], 16)
        known = seen <= self.now + TRUSTED_MS
        return entered <= self.now + ODD_MS and not (known and seen > entered + ODD_MS)

    def _to_come(self, event: Event) -> bool:
        """Whether it is about a time nobody can have seen yet. On the phone: frontend/src/core/phone/odd_clock.ts."""
        kind = event.get("kind")
        if not known(kind, event.get("v")) or kind in MAY_LIE_AHEAD:
            return False
        edge = self.now + ODD_MS
        return bool(event["happened"] > edge or event["on"] > day_of(edge + TRUSTED_MS, self.zone).isoformat())

    def _possible(self, stamp: str) -> bool:
        """Not from the future: the server's own clock may have been wrong on the day it gave that stamp."""
        return int(stamp[:12], 16) <= self.now + TRUSTED_MS


def _shifted(on: str, days: int) -> str:
    try:
        return (date.fromisoformat(on) + timedelta(days=days)).isoformat()
    except OverflowError:
        return on
