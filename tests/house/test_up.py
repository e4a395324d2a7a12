import os
import signal
import socket
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.support.live import Server
from tests.support.paths import ROOT


def test_up_makes_the_database_says_where_it_is_and_serves(built_client: None, tmp_path: Path) -> None:
    server = Server(tmp_path)
    command = [sys.executable, "manage.py", "up", "--no-demo", "--port", str(server.port)]
    running = subprocess.Popen(command, cwd=ROOT, env=server.env, stdout=subprocess.PIPE, start_new_session=True)
    try:
        assert running.stdout
        assert f"http://localhost:{server.port}/" in running.stdout.readline().decode()
        until = time.monotonic() + 20
        while not server.answers() and time.monotonic() < until:
            time.sleep(0.05)
        assert server.answers()
    finally:
        os.killpg(running.pid, signal.SIGTERM)
        running.wait(20)


def test_up_says_plainly_that_the_port_is_taken(tmp_path: Path) -> None:
    server = Server(tmp_path)
    with socket.socket() as other:
        other.bind(("127.0.0.1", server.port))
        other.listen()
        with pytest.raises(RuntimeError, match="in use by another program"):
            server.manage("up", "--no-demo", "--port", str(server.port))
