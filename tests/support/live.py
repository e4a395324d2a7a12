"""A real server with its worker and its own database, that a test may stop, kill and start again on the same port."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

from tests.support.paths import ROOT
from tests.support.ports import free_port

START_S = 30


class Server:
    """
    FOLDER holds the database, the key and the log. Nothing is inherited from the developer's own data.

    >>> server = Server(tmp_path); server.manage("migrate"); server.start()
    """

    def __init__(self, folder: Path, database_url: str | None = None, application: str = "herd.wsgi:application"):
        self.folder = folder
        self.port = free_port()
        self.application = application
        self.env = {key: value for key, value in os.environ.items() if not key.startswith(("MANGERLINE_", "DJANGO_"))}
        self.env |= {"MANGERLINE_DATA": str(folder), "PYTHONPATH": str(ROOT)}
        self.env.pop("DATABASE_URL", None)
        if database_url:
            self.env["DATABASE_URL"] = database_url
        self.process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"http://localhost:{self.port}"

    @property
    def log(self) -> str:
        path = self.folder / "server.log"
        return path.read_text(errors="replace") if path.exists() else ""

    def manage(self, *arguments: str, stdin: str | None = None) -> str:
        """Run a management command on this server's data; what it prints comes back."""
        command = [sys.executable, "manage.py", *arguments]
        done = subprocess.run(command, cwd=ROOT, env=self.env, input=stdin, capture_output=True, text=True)
        if done.returncode:
            raise RuntimeError(f"manage.py {' '.join(arguments)} failed:\n{done.stdout}\n{done.stderr}")
        return done.stdout

    def with_demo(self, *arguments: str) -> Server:
        self.folder.mkdir(exist_ok=True)
        self.manage("migrate", "--verbosity", "0")
        self.manage("make_demo", *arguments)
        return self

    def start(self) -> Server:
        pool = ["--worker-class", "gthread", "--workers", "1", "--threads", "8", "--no-control-socket"]
        serve = [sys.executable, "-m", "gunicorn", self.application, "--bind", f"127.0.0.1:{self.port}", *pool]
        return self.run(["-m", "herd.together", *serve, "--", sys.executable, "-m", "herd.cli", "work"])

    def start_up(self) -> Server:
        """As `up` serves it, with its pool of workers; what is asked of a household's machine."""
        return self.run(["manage.py", "up", "--no-demo", "--port", str(self.port)])

    def run(self, arguments: list[str]) -> Server:
        command = [sys.executable, *arguments]
        with open(self.folder / "server.log", "ab") as log:
            # A group of its own, so that killing it also takes the worker that holds the port.
            self.process = subprocess.Popen(
                command, cwd=ROOT, env=self.env, stdout=log, stderr=subprocess.STDOUT, start_new_session=True
            )
        self.wait_until_up()
        return self

    def wait_until_up(self) -> None:
        until = time.monotonic() + START_S
        while time.monotonic() < until:
            if self.process and self.process.poll() is not None:
                break
            if self.answers():
                return
            time.sleep(0.05)
        raise RuntimeError(f"the server did not start:\n{self.log[-3000:]}")

    def answers(self) -> bool:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{self.port}/healthz", timeout=5) as reply:
                return bool(reply.status == 200)
        except (urllib.error.URLError, ConnectionError, TimeoutError):
            return False

    def stop(self) -> None:
        """End it politely: requests under way are finished."""
        self.end(signal.SIGTERM)

    def kill(self) -> None:
        """End it as a power cut would: whatever was under way is gone."""
        self.end(signal.SIGKILL)

    def freeze(self) -> None:
        """Keep the port open and answer nothing, as a signal that is too weak does."""
        self.tell(signal.SIGSTOP)

    def thaw(self) -> None:
        self.tell(signal.SIGCONT)

    def restart(self) -> Server:
        self.stop()
        return self.start()

    def end(self, how: signal.Signals) -> None:
        if self.process is None:
            return
        self.tell(how)
        self.process.wait(timeout=40)
        self.process = None

    def tell(self, what: signal.Signals) -> None:
        if self.process and self.process.poll() is None:
            os.killpg(self.process.pid, what)

    def __enter__(self) -> Server:
        return self.start()

    def __exit__(self, *_: object) -> None:
        self.kill()
