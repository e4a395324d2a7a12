"""Eight slow phones and a ninth in order: behind the recipe's proxy it is answered at once; without one, soon."""

from __future__ import annotations

import os
import signal
import ssl
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from herd.hosting.worker import HEAD_S
from tests.support.caddy import NAME, NoCaddy, caddy
from tests.support.house_ca import NoOpenssl
from tests.support.live import Server
from tests.support.paths import ROOT
from tests.support.slow_phone import Good, half_a_push, slow_ones

pytestmark = pytest.mark.slow
WORD = "a word for slow phones"


@pytest.fixture
def up(built_client: None, tmp_path: Path) -> Iterator[Server]:
    """Served by the command itself, as the recipe does."""
    server = Server(tmp_path / "data")
    server.folder.mkdir()
    server.env |= {"MANGERLINE_HOSTS": f"localhost,{NAME}", "MANGERLINE_BEHIND_PROXY": "1"}
    server.manage("migrate", "--verbosity", "0")
    server.manage("add_person", "Ada", "--stdin", stdin=WORD + "\n")
    make = "from herd.models import Person; from herd.services.make_farm import make_farm;"
    server.manage("shell", "--no-imports", "-c", f"{make} make_farm('Hill', 'UTC', Person.objects.get())")
    command = [sys.executable, "manage.py", "up", "--no-demo", "--port", str(server.port)]
    with (tmp_path / "up.log").open("wb") as log:
        running = subprocess.Popen(
            command, cwd=ROOT, env=server.env, stdout=log, stderr=subprocess.STDOUT, start_new_session=True
        )
    try:
        until = time.monotonic() + 40
        while not server.answers():
            assert time.monotonic() < until, (tmp_path / "up.log").read_text()[-2000:]
            time.sleep(0.1)
        yield server
    finally:
        os.killpg(running.pid, signal.SIGTERM)
        running.wait(40)


def test_behind_the_proxy_the_ninth_is_answered_within_a_second(up: Server, tmp_path: Path) -> None:
    try:
        with caddy(tmp_path / "proxy", up.port) as (port, root):
            good = Good(port, NAME, ssl.create_default_context(cafile=str(root)))
            farm = good.sign_in("Ada", WORD)
            for count in (8, 60):
                with slow_ones(good, count, half_a_push(good, farm)):
                    took = [good.ask("GET", f"/api/farms/{farm}/changes") for _ in range(5)]
                print(f"{count} slow: the next one after {max(s for *_, s in took) * 1000:.0f} ms at most")
                assert [status for status, *_ in took] == [200] * 5
                assert max(seconds for *_, seconds in took) < 1
    except (NoCaddy, NoOpenssl) as lacking:
        pytest.skip(str(lacking))


def test_without_a_proxy_eight_slow_ones_do_not_close_the_door(up: Server) -> None:
    good = Good(up.port, "localhost", None)
    with slow_ones(good, 8, b"GET /healthz HTTP/1.1\r\nHost: localhost\r\nX-Slow:"):
        status, _, took = good.ask("GET", "/healthz")
        assert (status, took < 1) == (200, True)


def test_who_never_ends_a_request_is_let_go(up: Server) -> None:
    good = Good(up.port, "localhost", None)
    with slow_ones(good, 40, b"GET /healthz HTTP/1.1\r\nHost: localhost\r\nX-Slow:"):
        began = time.monotonic()
        status, _, _ = good.ask("GET", "/healthz")
        took = time.monotonic() - began
    print(f"40 slow ones for 32 places, no proxy: the next one after {took:.1f} s")
    assert status == 200
    # Two turns of those who wait, where one worker has got more of them than the other.
    assert took < 2 * HEAD_S + 4
