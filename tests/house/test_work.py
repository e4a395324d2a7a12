"""Server and worker as one: `up` starts both, and none is left behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.support.live import Server
from tests.support.paths import ROOT

WAIT_S = 40


def children(pid: int) -> dict[int, str]:
    """Of a process and of those, by number: what they are."""
    found: dict[int, str] = {}
    for folder in Path("/proc").iterdir():
        if not folder.name.isdigit():
            continue
        try:
            parent = int((folder / "stat").read_text().rsplit(")", 1)[1].split()[1])
            said = (folder / "cmdline").read_bytes().replace(b"\0", b" ").decode()
        except OSError:
            continue
        if parent == pid:
            found |= {int(folder.name): said, **children(int(folder.name))}
    return found


def until(true: Callable[[], bool]) -> bool:
    end = time.monotonic() + WAIT_S
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.1)
    return False


def lives(pid: int) -> bool:
    try:
        return "\nState:\tZ" not in Path(f"/proc/{pid}/status").read_text()
    except OSError:
        return False


def ask(server: Server, code: str) -> str:
    return server.manage("shell", "--no-imports", "-c", code).strip()


SEEN = "from herd.models import WorkerSeen; print(WorkerSeen.objects.count())"
DONE = "from herd.models import OutlookRow; print(OutlookRow.objects.count())"
A_FARM = """
from herd.models import Person
from herd.services.make_farm import make_farm
make_farm("Hill", "UTC", Person.objects.make("Ada", "wet gloves at dawn"))
"""


@pytest.fixture
def up(built_client: None, tmp_path: Path) -> Iterator[Server]:
    if sys.platform != "linux":
        pytest.skip("reads /proc, and asks Linux to take children along")
    server = Server(tmp_path)
    server.start_up()
    try:
        yield server
    finally:
        server.kill()


def test_up_makes_outlooks_and_ends_as_one(up: Server) -> None:
    assert up.process
    ask(up, A_FARM)
    assert until(lambda: ask(up, DONE) == "1"), up.log
    assert ask(up, SEEN) == "1"
    family = children(up.process.pid)
    assert len([one for one in family.values() if "herd.cli work" in one]) == 1
    os.kill(up.process.pid, signal.SIGTERM)
    assert up.process.wait(WAIT_S) == 0
    assert until(lambda: not any(lives(pid) for pid in family)), family
    assert ask(up, SEEN) == "0", "it says that it goes"


def test_killed_without_a_word_it_takes_both_along(up: Server) -> None:
    assert up.process
    family = children(up.process.pid)
    assert len(family) >= 4
    os.kill(up.process.pid, signal.SIGKILL)
    up.process.wait(WAIT_S)
    assert until(lambda: not any(lives(pid) for pid in family)), [family[pid] for pid in family if lives(pid)]


def test_a_worker_that_dies_is_started_again_and_the_server_goes_on(up: Server) -> None:
    assert up.process
    working = lambda: [pid for pid, said in children(up.process.pid).items() if "herd.cli work" in said]  # noqa: E731
    first = working()
    os.kill(first[0], signal.SIGKILL)
    assert until(lambda: bool(working()) and working() != first)
    assert up.answers()
    ask(up, A_FARM)
    assert until(lambda: ask(up, DONE) == "1"), up.log


def test_when_the_server_ends_so_does_the_worker(up: Server) -> None:
    assert up.process
    family = children(up.process.pid)
    master = next(pid for pid, said in family.items() if "gunicorn" in said)
    os.kill(master, signal.SIGTERM)
    assert up.process.wait(WAIT_S) != 0
    assert until(lambda: not any(lives(pid) for pid in family))


def test_two_workers_share_the_work_and_end_with_whoever_started_them(built_client: None, tmp_path: Path) -> None:
    server = Server(tmp_path)
    server.manage("migrate", "--verbosity", "0")
    shell = f"{sys.executable} -m herd.cli work & {sys.executable} -m herd.cli work & wait"
    running = subprocess.Popen(["sh", "-c", shell], cwd=ROOT, env=server.env, start_new_session=True)
    try:
        assert until(lambda: ask(server, SEEN) == "2")
        ask(server, A_FARM)
        assert until(lambda: ask(server, DONE) == "1")
        both = [pid for pid, said in children(running.pid).items() if "herd.cli work" in said]
        running.kill()
        assert until(lambda: not any(lives(pid) for pid in both))
    finally:
        for pid in (*children(running.pid), running.pid):
            if lives(pid):
                os.kill(pid, signal.SIGKILL)
        running.wait(WAIT_S)
