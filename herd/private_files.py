"""The data folder is its owner's alone: the database, the key and the passwords of the demo are read by nobody else."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

OURS = ("*.sqlite3", "*.sqlite3-wal", "*.sqlite3-shm", "secret_key", "vapid_key", "demo_passwords.json")


def make_private(folder: Path, database: Path | None) -> None:
    """SQLite gives its other files the mode of the database, which is made here before it is opened.

    A folder that is not ours alone keeps its mode: somebody may have named one that everybody writes to.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    # On a read-only disk, or where somebody else owns them, they stay as they are.
    with suppress(OSError):
        if database and not database.exists():
            os.close(os.open(database, os.O_WRONLY | os.O_CREAT, 0o600))
    for file in (found for pattern in OURS for found in folder.glob(pattern)):
        _narrow(file, 0o600)
    if (folder / "secret_key").exists() and not folder.stat().st_mode & stat.S_ISVTX:
        _narrow(folder, 0o700)


def _narrow(path: Path, mode: int) -> None:
    with suppress(OSError):
        if stat.S_IMODE(path.stat().st_mode) & ~mode:
            path.chmod(mode)
