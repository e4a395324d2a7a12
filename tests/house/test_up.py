import os
import signal
import subprocess
import sys
import time
from pathlib import Path

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
