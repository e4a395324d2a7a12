"""The disk is full in the middle of a barn's sending: what was answered is in the log, what was not is said to be so,
and once there is room everything is there once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.live import Server
from tests.support.raw_phone import MAKE, Wire, a_batch, answered, logged, push
from tests.support.small_disk import NoDisk, small_disk

DISK_MB, BATCHES = 64, 12


def fill_up(folder: Path) -> Path:
    """To the last page."""
    path = folder / "filler"
    with path.open("wb", buffering=0) as file:
        for size in (1 << 20, 4096):
            try:
                while True:
                    file.write(bytes(size))
            except OSError:
                continue
    return path


def test_a_push_onto_a_full_disk_is_not_taken_for_sent_and_comes_again(tmp_path: Path) -> None:
    try:
        with small_disk(tmp_path / "data", DISK_MB) as folder:
            comes_again(Server(folder))
    except NoDisk as lacking:
        pytest.skip(str(lacking))


def comes_again(server: Server) -> None:
    server.manage("migrate", "--verbosity", "0")
    farm_id, ada_id = server.manage("shell", "--no-imports", "-c", MAKE).split()[-2:]
    with server:
        wire = Wire(server)
        wire.sign_in("Ada", "wet gloves at dawn")
        batches = [a_batch(farm_id, ada_id) for _ in range(BATCHES)]
        filler, taken, said = fill_up(server.folder), set[str](), set[str]()
        for body, _ in batches:
            told = json.loads(push(wire, farm_id, body))
            said.add(str(told.get("code", "")))
            taken |= {one["id"] for one in told.get("answers", []) if one["st"] in ("ok", "dup")}
        assert "full" in said, f"nothing was refused: {said}"
        # Whoever reads a log in WAL mode needs a little room on the disk too.
        filler.unlink()
        assert taken <= {event_id for _, event_id in logged(server)}
        for body, _ in batches:
            assert {one["st"] for one in answered(wire, farm_id, body)} <= {"ok", "dup"}
        rows = logged(server)
    every = set[str]().union(*(ids for _, ids in batches))
    assert [seq for seq, _ in rows] == list(range(1, len(every) + 1))
    assert {event_id for _, event_id in rows} == every
