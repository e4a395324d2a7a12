"""The health line says no whenever an entry could not be kept, and under which name it is asked does not matter."""

from __future__ import annotations

import http.client
import json
import sqlite3
import time
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from django.db import OperationalError, connection

from herd.services import health as module
from herd.services.health import BUSY, CORRUPT, FULL, GONE, READ_ONLY, look, told
from tests.support.live import Server
from tests.support.small_disk import NoDisk, small_disk


def ask(server: Server, **headers: str) -> tuple[int, dict[str, Any]]:
    line = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
    line.request("GET", "/healthz", headers=headers)
    reply = line.getresponse()
    body = json.loads(reply.read())
    line.close()
    return reply.status, body


@pytest.fixture
def on_a_small_disk(tmp_path: Path) -> Iterator[Server]:
    try:
        with small_disk(tmp_path / "data", 64) as folder:
            server = Server(folder)
            server.manage("migrate", "--verbosity", "0")
            with server:
                yield server
    except NoDisk as lacking:
        pytest.skip(str(lacking))


def settled(server: Server, status: int) -> dict[str, Any]:
    """An answer is kept for a second."""
    until = time.monotonic() + 10
    while time.monotonic() < until:
        found, body = ask(server)
        if found == status:
            return body
        time.sleep(0.2)
    raise AssertionError(f"healthz went on saying {found}: {body}")


def test_a_full_disk_is_no_health_and_room_is_health_again(on_a_small_disk: Server) -> None:
    server = on_a_small_disk
    assert settled(server, 200) == {"ok": True}
    filler = server.folder / "filler"
    with pytest.raises(OSError, match="No space"):
        filler.write_bytes(bytes(80 << 20))
    said = settled(server, 503)
    assert said["code"] == "full"
    assert "make room" in said["message"]
    filler.unlink()
    assert settled(server, 200) == {"ok": True}


@pytest.mark.django_db(transaction=True)
def test_a_database_that_cannot_be_written_is_no_health() -> None:
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL says it by a number, below")
    with connection.cursor() as cursor:
        cursor.execute("PRAGMA query_only=ON")
        assert look() == READ_ONLY
        cursor.execute("PRAGMA query_only=OFF")
    assert look() is None


def test_damaged_pages_are_no_health(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.support.live.START_S", 4)
    server = Server(tmp_path).with_demo()
    path = tmp_path / "mangerline.sqlite3"
    with sqlite3.connect(path) as base:
        base.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    size = path.stat().st_size
    with path.open("r+b") as file:
        for place in range(64, 90):
            file.seek(size * place // 100 // 4096 * 4096)
            file.write(b"\xa5" * 4096)
    with pytest.raises(RuntimeError, match="did not start"):
        server.start()
    status, said = ask(server)
    server.kill()
    assert (status, said["code"]) == (503, "corrupt")


def test_it_answers_under_every_name_and_address(tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.env |= {"MANGERLINE_HOSTS": "herd.example.org", "MANGERLINE_BEHIND_PROXY": "1"}
    server.manage("migrate", "--verbosity", "0")
    with server:
        for host in ("10.0.0.7", "herd.example.org", "[fe80::1]", "other.example.com", ""):
            assert ask(server, Host=host)[0] == 200, host


@pytest.mark.django_db
def test_it_costs_little(django_assert_max_num_queries: Any) -> None:
    look()
    began = time.perf_counter()
    with django_assert_max_num_queries(9):
        for _ in range(3):
            assert look() is None
    assert time.perf_counter() - began < 0.5


@pytest.mark.django_db(transaction=True)
def test_somebody_who_writes_for_long_is_said_within_a_few_seconds(monkeypatch: pytest.MonkeyPatch) -> None:
    if connection.vendor != "sqlite":
        pytest.skip("rows are locked one by one on PostgreSQL")
    assert look() is None
    monkeypatch.setattr(module, "PATIENCE_MS", 300)
    with sqlite3.connect(connection.settings_dict["NAME"]) as other:
        other.execute("BEGIN IMMEDIATE")
        began = time.monotonic()
        assert look() == BUSY
        assert time.monotonic() - began < 3
        other.rollback()
    assert look() is None


@pytest.mark.parametrize(
    ("said", "ill"),
    [
        ("database or disk is full", FULL),
        ("attempt to write a readonly database", READ_ONLY),
        ("unable to open database file", READ_ONLY),
        ("database disk image is malformed", CORRUPT),
        ("database is locked", BUSY),
        ("connection refused", GONE),
    ],
)
def test_what_a_database_says_in_our_words(said: str, ill: Any) -> None:
    assert told(OperationalError(said)) == ill


@pytest.mark.parametrize(("state", "ill"), [("53100", FULL), ("25006", READ_ONLY), ("XX001", CORRUPT)])
def test_what_postgresql_says_by_number(state: str, ill: Any) -> None:
    class Cause(Exception):
        sqlstate = state

    error = OperationalError("it said so")
    error.__cause__ = Cause()
    assert told(error) == ill


@pytest.mark.parametrize("said", ["unable to open database file", "disk I/O error", "something new"])
def test_whatever_sqlite_says_where_there_is_no_room_left_it_is_the_disk(monkeypatch: Any, said: str) -> None:
    monkeypatch.setattr(module, "connection", SimpleNamespace(vendor="sqlite"))
    assert told(OperationalError(said)) is not FULL
    monkeypatch.setattr(module, "free_bytes", lambda folder: 0)
    assert told(OperationalError(said)) is FULL
    assert told(OperationalError("database is locked")) is BUSY
