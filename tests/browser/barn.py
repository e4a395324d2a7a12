"""A running farm for one test, and what its log holds."""

from __future__ import annotations

import json
import sqlite3
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from tests.support.live import Server

WAIT_S = 20.0
# Where it is about three in the afternoon now: in the small hours a phone still shows the late look of the day before,
# and at dawn it shows other pens first. Such a zone's sign is turned round: "Etc/GMT-9" is nine hours ahead.
ZONE = f"Etc/GMT{max(datetime.now(UTC).hour - 15, -14):+d}"


def today() -> date:
    """The farm's, which is not the machine's once a run has gone past midnight."""
    return datetime.now(ZoneInfo(ZONE)).date()


@dataclass(frozen=True)
class Barn:
    server: Server
    passwords: dict[str, str]

    def log(self) -> list[dict[str, Any]]:
        """Every entry the server holds, as the phones sent it, in the order of arrival."""
        return [json.loads(raw) for (raw,) in self.ask("SELECT raw FROM herd_event ORDER BY rowid")]

    def added(self, before: int, *kinds: str) -> list[str]:
        """The kinds of the entries that came after the first BEFORE, of those asked for."""
        return sorted(event["kind"] for event in self.log()[before:] if not kinds or event["kind"] in kinds)

    def knows(self, kind: str, name: str) -> bool:
        return any(event["kind"] == kind and event["data"]["f"].get("name") == name for event in self.log())

    def refused(self) -> int:
        return int(self.ask("SELECT count(*) FROM herd_quarantine")[0][0])

    def ask(self, sql: str) -> list[tuple[Any, ...]]:
        with closing(sqlite3.connect(self.server.folder / "mangerline.sqlite3", timeout=20)) as database, database:
            return database.execute(sql).fetchall()

    def sign_everybody_out(self) -> None:
        self.ask("DELETE FROM django_session")


def subject(barn: Barn, kind: str, name: str, field: str = "name") -> str:
    records = [event for event in barn.log() if event["kind"] == kind and event["data"]["f"].get(field) == name]
    return str(records[-1]["subject"])


def until(true: Callable[[], bool], what: str, wait_s: float = WAIT_S) -> None:
    end = time.monotonic() + wait_s
    while not true():
        assert time.monotonic() < end, f"not within {wait_s} s: {what}"
        time.sleep(0.05)
