"""A backup as a file: what a whole one looks like. Nothing here asks a database."""

from __future__ import annotations

import gzip
import json
from collections.abc import Collection, Iterator
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from .wire import digest

# 2 has rulings, 3 the digest of its own lines, 4 what people sign in with, and pictures. All are read.
FORMAT, FORMAT_VERSION, READ = "mangerline-backup", 4, (1, 2, 3, 4)
SUMMED = 3


class BadBackup(ValueError):
    """The file is not a whole backup; nothing was touched."""


CUT = "The backup is cut off or changed: nothing was restored."


@dataclass(slots=True)
class Checked:
    """Rows per table, and the entries whose text is no longer what was taken in (the database was spoilt before)."""

    counts: dict[str, int]
    spoilt: list[str] = field(default_factory=list)


def check(path: Path, tables: Collection[str]) -> Checked:
    """Read the whole file: its counts, its own digest, and the digest of each entry's text."""
    found, total = Checked(dict.fromkeys(tables, 0)), sha256()
    lines = texts(path)
    first = parsed(next(lines, ""), total)
    if first.get("format") != FORMAT or first.get("v") not in READ:
        raise BadBackup("This is not a backup this build can read.")
    for text in lines:
        so_far = total.hexdigest()
        line = parsed(text, total)
        if "end" in line:
            whole = {**dict.fromkeys(tables, 0), **line["end"]} == found.counts and next(lines, None) is None
            if not whole or (first["v"] >= SUMMED and line.get("sha256") != so_far):
                break
            return found
        _count(line, found)
    raise BadBackup(CUT)


def _count(line: dict[str, Any], found: Checked) -> None:
    table, row = line.get("t"), line.get("r")
    if table not in found.counts or not isinstance(row, dict):
        raise BadBackup(CUT)
    found.counts[table] += 1
    if table == "event" and digest(row["raw"]) != row["sha256"]:
        found.spoilt.append(row["id"])


def rows(path: Path) -> Iterator[tuple[str, dict[str, Any]]]:
    """(table, row) of a file that was checked."""
    for text in texts(path):
        line = json.loads(text)
        if "t" in line:
            yield line["t"], line["r"]


def parsed(text: str, total: Any) -> dict[str, Any]:
    total.update(text.encode())
    try:
        line = json.loads(text)
    except ValueError as error:
        raise BadBackup("The backup cannot be read: nothing was restored.") from error
    if not isinstance(line, dict):
        raise BadBackup(CUT)
    return line


def texts(path: Path) -> Iterator[str]:
    try:
        with gzip.open(path, "rt", encoding="utf-8", newline="\n") as file:
            yield from file
    except (OSError, EOFError, ValueError) as error:
        raise BadBackup("The backup cannot be read: nothing was restored.") from error
