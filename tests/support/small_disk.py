"""A disk of a few megabytes, in memory, that a test may fill up."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class NoDisk(Exception):
    pass


@contextmanager
def small_disk(folder: Path, size_mb: int) -> Iterator[Path]:
    folder.mkdir(parents=True, exist_ok=True)
    mount = ["mount", "-t", "tmpfs", "-o", f"size={size_mb}m,mode=0700", "tmpfs", str(folder)]
    try:
        done = subprocess.run(mount, capture_output=True, text=True)
    except FileNotFoundError as error:
        raise NoDisk("no small disk: there is no mount") from error
    if done.returncode:
        raise NoDisk(f"no small disk: {done.stderr.strip()}")
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=False)
