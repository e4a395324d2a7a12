"""What lies in the data folder is its owner's alone; headers for every answer; passwords are printed once."""

from __future__ import annotations

import http.client
import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from herd.private_files import make_private
from tests.house.test_pages import get
from tests.support.live import Server
from tests.support.paths import ROOT


def mode(path: Path) -> int:
    return stat.S_IMODE(path.stat().st_mode)


@pytest.fixture(scope="module")
def site(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> object:
    server = Server(tmp_path_factory.mktemp("site") / "data")
    server.manage("migrate", "--verbosity", "0")
    with server:
        yield server


def test_a_server_makes_its_files_for_its_owner_alone(site: Server) -> None:
    assert mode(site.folder) == 0o700
    files = {path.name: oct(mode(path)) for path in site.folder.iterdir() if path.suffix != ".log"}
    assert {"mangerline.sqlite3", "secret_key"} <= files.keys()
    assert set(files.values()) == {"0o600"}, files


def test_an_older_folder_is_narrowed_and_one_everybody_writes_to_is_left(tmp_path: Path) -> None:
    old, shared = tmp_path / "old", tmp_path / "shared"
    for folder, bits in ((old, 0o755), (shared, 0o1777)):
        folder.mkdir()
        folder.chmod(bits)
        for name in ("mangerline.sqlite3", "secret_key", "other.txt"):
            (folder / name).write_text("x")
            (folder / name).chmod(0o644)
        make_private(folder, folder / "mangerline.sqlite3")
        assert [oct(mode(folder / name)) for name in ("mangerline.sqlite3", "secret_key")] == ["0o600", "0o600"]
        assert mode(folder / "other.txt") == 0o644
    assert (mode(old), mode(shared)) == (0o700, 0o1777)


@pytest.mark.parametrize("path", ["/", "/sw.js", "/api/session", "/api/nothing", "/healthz", "/assets/none.js"])
def test_every_answer_says_what_it_may_and_to_whom_it_belongs(site: Server, path: str) -> None:
    _, headers, _ = get(site, path)
    assert headers["cross-origin-resource-policy"] == headers["cross-origin-opener-policy"] == "same-origin"
    assert "geolocation=()" in headers["permissions-policy"]
    assert "camera=(self)" in headers["permissions-policy"]


def test_health_is_told_to_whoever_calls_the_machine_by_any_name(site: Server) -> None:
    for host in ("10.1.2.3", "10.1.2.3:8000", "[fd00::1]", "somewhere.example"):
        line = http.client.HTTPConnection("127.0.0.1", site.port, timeout=10)
        line.putrequest("GET", "/healthz", skip_host=True)
        line.putheader("Host", host)
        line.endheaders()
        assert line.getresponse().status == 200, host
        line.close()
    assert get(site, "/", Host="somewhere.example")[0] == 400


def up_said(folder: Path) -> str:
    """What the command prints before it gives way to the server, which is not started."""
    begins = "import os, sys; os.execv = lambda *_: None; from herd.cli import main; "
    script = begins + "sys.argv = ['m', 'up', '--port', '0']; main()"
    env = {**os.environ, "MANGERLINE_DATA": str(folder)}
    env.pop("DATABASE_URL", None)
    done = subprocess.run(
        [sys.executable, "-c", script], cwd=ROOT, env=env, capture_output=True, text=True, timeout=240
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_passwords_of_the_demo_are_printed_at_the_first_start_only(tmp_path: Path) -> None:
    folder = tmp_path / "data"
    first, second = up_said(folder), up_said(folder)
    words = [line.split(": ")[1] for line in first.splitlines() if line.startswith("  ")]
    assert len(words) == 3
    assert not any(word in second for word in words)
    assert str(folder / "demo_passwords.json") in second
    assert mode(folder / "demo_passwords.json") == 0o600
