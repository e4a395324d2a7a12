"""What everybody did, collected in any order and then written by their phones in the order it was entered."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

from herd.state.order import Event

from .phone import Phone

Written = dict[str, Event]
Data = dict[str, Any] | Callable[[Written], dict[str, Any]]


@dataclass(slots=True)
class Entry:
    """One thing done. `key` lets a later entry name it; `data` may be made from what was written before."""

    who: str
    kind: str
    subject: str
    data: Data
    on: str
    slot: str
    happened: int
    entered: int
    key: str


@dataclass(slots=True)
class Diary:
    today: date
    now: int
    zone: ZoneInfo
    rng: Random
    entries: list[Entry] = field(default_factory=list)

    def day(self, ago: int) -> str:
        """The farm's date so many days ago; a negative number lies ahead."""
        return (self.today - timedelta(days=ago)).isoformat()

    def at(self, ago: int, clock: str) -> int:
        """The instant at which the farm's own clocks stood so on that day."""
        moment = datetime.combine(self.today - timedelta(days=ago), time.fromisoformat(clock), self.zone)
        return int(moment.timestamp() * 1000)

    def note(
        self,
        who: str,
        ago: int,
        clock: str,
        kind: str,
        subject: str,
        data: Data,
        *,
        slot: str = "",
        key: str = "",
        entered: int | None = None,
    ) -> None:
        """Done at a time of day, give or take, and entered on the spot or some day later. Nobody knows what is to come.

        `on` is the day itself, so that a date does not hang on the hour it was written down.
        """
        happened = self.at(ago, clock) + self.rng.randrange(59_000)
        written = (
            happened if entered is None or entered == ago else self.at(entered, "20:00") + self.rng.randrange(59_000)
        )
        if written <= self.now:
            moment = written + self.rng.randrange(400, 4_000)
            self.entries.append(Entry(who, kind, subject, data, self.day(ago), slot, happened, moment, key))

    def follow(self, who: str, key: str, kind: str, subject: str, data: Data, own_key: str = "") -> None:
        """Done within the minute after an entry already in the diary, by now at the latest; not without that one."""
        first = next((entry for entry in self.entries if entry.key == key), None)
        if first:
            soon = first.entered + self.rng.randrange(20_000, 50_000)
            happened = min(soon, max(first.entered + 1, self.now - 500))
            self.entries.append(
                Entry(who, kind, subject, data, first.on, first.slot, happened, happened + 500, own_key)
            )

    def written(self, phones: dict[str, Phone]) -> list[Event]:
        """Every entry as an event, in the order in which they were entered."""
        written: Written = {}
        events = []
        for entry in sorted(self.entries, key=lambda entry: entry.entered):
            data = entry.data(written) if callable(entry.data) else entry.data
            when = (entry.on, entry.slot, entry.happened, entry.entered)
            event = phones[entry.who].write(entry.kind, entry.subject, data, when)
            written[entry.key or event["id"]] = event
            events.append(event)
        return events
