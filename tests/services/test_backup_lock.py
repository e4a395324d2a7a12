"""A backup is nobody's burden: no lock, no leftovers, and it is read to its end before it counts."""

from __future__ import annotations

import gzip
import json
import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from herd.models import Event
from herd.services import backup as module
from herd.services.backup import TABLES, backup, file_in, thin_out
from herd.services.backup_file import BadBackup, check
from herd.services.last_backup import last
from tests.logs import record
from tests.people import People, make_people
from tests.phones import Phone, new_id
from tests.support.live import Server
from tests.support.paths import ROOT


@pytest.fixture
def people(transactional_db: None, quick_hashes: None) -> People:
    return make_people()


def test_somebody_records_while_a_backup_is_being_written(
    people: People, ada: Phone, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The backup waits in the middle for an entry from another thread: with a lock held, that entry would time out."""
    record(ada, ada.record("doe", new_id(), {"name": "Ivy"}))
    took: list[float] = []

    def another() -> None:
        began = time.monotonic()
        record(ada, ada.record("doe", new_id(), {"name": "Elm"}))
        took.append(time.monotonic() - began)
        connection.close()

    plain, once = module._rows, [True]

    def slow(model: Any) -> Iterator[dict[str, Any]]:
        yield from plain(model)
        if model is Event and once.pop():
            thread = threading.Thread(target=another)
            thread.start()
            thread.join(30)

    monkeypatch.setattr(module, "_rows", slow)
    found = backup(tmp_path / "a.jsonl.gz")
    assert took, "the other entry never came through"
    assert took[0] < 2
    assert found.counts["event"] == 1, "one moment: what came meanwhile is in the next backup"
    assert Event.objects.count() == 2
    assert connection.vendor != "sqlite" or connection.transaction_mode == "IMMEDIATE"


def test_a_backup_that_fails_leaves_nothing(people: People, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(model: Any) -> Iterator[dict[str, Any]]:
        raise OSError(28, "No space left on device")
        yield {}

    monkeypatch.setattr(module, "_rows", full)
    with pytest.raises(CommandError, match="No space left"):
        call_command("backup", str(tmp_path / "a.jsonl.gz"))
    assert list(tmp_path.iterdir()) == []


def test_what_a_killed_backup_left_goes_with_the_next(people: People, tmp_path: Path) -> None:
    held = tmp_path / "held.jsonl.gz.part"
    left = tmp_path / "left.jsonl.gz.part"
    left.write_bytes(b"half")
    code = (
        "import fcntl, sys, time; f = open(sys.argv[1], 'wb'); fcntl.flock(f, fcntl.LOCK_EX); print('held', flush=True)"
        "; time.sleep(60)"
    )
    other = subprocess.Popen([sys.executable, "-c", code, str(held)], stdout=subprocess.PIPE)
    try:
        assert other.stdout
        other.stdout.readline()
        backup(tmp_path / "a.jsonl.gz")
        assert {path.name for path in tmp_path.iterdir()} == {"a.jsonl.gz", "held.jsonl.gz.part"}
    finally:
        other.kill()
        other.wait()


@pytest.mark.parametrize("spoil", ["swap", "grow", "letter"])
def test_a_file_whose_lines_were_changed_is_no_backup(people: People, ada: Phone, tmp_path: Path, spoil: str) -> None:
    record(ada, ada.record("doe", new_id(), {"name": "Ivy"}))
    path = tmp_path / "a.jsonl.gz"
    backup(path)
    text = gzip.decompress(path.read_bytes()).decode()
    lines = text.splitlines(keepends=True)
    changed = {
        "swap": "".join([lines[0], lines[2], lines[1], *lines[3:]]),
        "grow": text + lines[1],
        "letter": text.replace("Hill", "Hall", 1),
    }[spoil]
    path.write_bytes(gzip.compress(changed.encode()))
    with pytest.raises(BadBackup):
        check(path, TABLES)


def test_an_entry_spoilt_in_the_database_is_named_and_older_backups_stay(
    people: People, ada: Phone, tmp_path: Path, settings: Any
) -> None:
    settings.DATA_DIR = tmp_path / "data"
    settings.DATA_DIR.mkdir()
    folder = tmp_path / "kept"
    folder.mkdir()
    old = folder / "mangerline-20200101-000000.jsonl.gz"
    event = ada.record("doe", new_id(), {"name": "Ivy"})
    record(ada, event)
    backup(old)
    Event.objects.filter(id=event["id"]).update(raw=json.dumps({**event, "slot": "late"}))
    with pytest.raises(CommandError, match="not what was taken in"):
        call_command("backup", str(folder), "--keep", "1", stdout=StringIO())
    assert old.exists()
    assert last(settings.DATA_DIR)["spoilt"] == [event["id"]]


def test_only_the_newest_are_kept_and_only_files_of_ours_go(people: People, tmp_path: Path) -> None:
    names = [f"mangerline-2026010{n}-020000.jsonl.gz" for n in range(1, 6)]
    for name in [*names, "before-20250101.jsonl.gz", "notes.txt"]:
        (tmp_path / name).write_text("x")
    assert [path.name for path in thin_out(tmp_path, 2)] == names[:3]
    assert {path.name for path in tmp_path.iterdir()} == {*names[3:], "before-20250101.jsonl.gz", "notes.txt"}
    assert thin_out(tmp_path, 0) == []
    assert file_in(tmp_path).match(module.NAMED)


@pytest.mark.slow
def test_a_backup_that_is_killed_at_any_time_leaves_a_whole_file_or_none(tmp_path: Path) -> None:
    server = Server(tmp_path / "data").with_demo()
    folder, seen = tmp_path / "kept", set[str]()
    folder.mkdir()
    for n in range(12):
        command = [sys.executable, "manage.py", "backup", str(folder / f"{n}.jsonl.gz")]
        running = subprocess.Popen(command, cwd=ROOT, env=server.env, stdout=subprocess.DEVNULL)
        time.sleep(0.5 + n * 0.08)
        running.send_signal(signal.SIGKILL)
        running.wait()
        for path in folder.glob("*.gz"):
            assert check(path, TABLES).counts["event"] > 100
            seen.add(path.name)
    server.manage("backup", str(folder / "last.jsonl.gz"))
    assert not list(folder.glob("*.part"))
    assert os.stat(folder / "last.jsonl.gz").st_mode & 0o077 == 0
