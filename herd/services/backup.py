"""Everything that cannot be made again, as lines of JSON: readable without us, and the same from either database.

Nobody waits for it: it reads one moment and holds no lock. It is read again to its end before it gets its name.
"""

from __future__ import annotations

import fcntl
import gzip
import json
import os
from base64 import b64encode
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path
from typing import IO, Any

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models

from herd.models import (
    Audit,
    Author,
    Blob,
    Device,
    Erased,
    Event,
    Farm,
    FarmFile,
    FilePart,
    Folded,
    Invitation,
    Membership,
    NightlyTask,
    Notice,
    NoticeChoice,
    OutlookRow,
    Person,
    Probe,
    PushSubscription,
    Quarantine,
    Ruling,
    Sending,
    ShortList,
    WorkerSeen,
)

from .backup_file import FORMAT, FORMAT_VERSION, Checked, check
from .one_moment import one_moment
from .versions import versions

# Parents before children: a restore reads in this order.
TABLES: dict[str, type[models.Model]] = {
    "person": Person,
    "email": EmailAddress,
    "passkey": Authenticator,
    "farm": Farm,
    "membership": Membership,
    "invitation": Invitation,
    "notice_choice": NoticeChoice,
    "device": Device,
    "event": Event,
    "ruling": Ruling,
    "quarantine": Quarantine,
    "blob": Blob,
    "author": Author,
    "erased": Erased,
    "audit": Audit,
}
# What is half sent is sent again; of a browser that hears of things its own page knows, and says so again.
MADE_AGAIN: tuple[type[models.Model], ...] = (
    Folded, OutlookRow, ShortList, Probe, WorkerSeen, NightlyTask, FarmFile, FilePart, Notice,
    Sending, PushSubscription,
)  # fmt: skip
PART = ".part"
# Pictures are large: so many rows are in memory at once.
MANY, FEW = 2000, 20
NAMED = "mangerline-*.jsonl.gz"


def columns(model: type[models.Model]) -> list[str]:
    """What the table holds now: before an upgrade it lacks what the code knows already."""
    table = model._meta.db_table
    if table not in connection.introspection.table_names():
        return []
    with connection.cursor() as cursor:
        there = {column.name for column in connection.introspection.get_table_description(cursor, table)}
    return [field.attname for field in model._meta.concrete_fields if field.column in there]


def file_in(folder: Path) -> Path:
    return folder / f"mangerline-{datetime.now(UTC):%Y%m%d-%H%M%S}.jsonl.gz"


def backup(path: Path) -> Checked:
    """Write one moment of the database to a file only its owner can read, and read it again. What was found in it."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    _sweep(path.parent)
    with _draft(path.with_name(path.name + PART)) as (draft, plain):
        with gzip.open(plain, "wt", encoding="utf-8") as file, one_moment():
            _write(Summed(file))
        plain.flush()
        os.fsync(plain.fileno())
        found = check(draft, TABLES)
        draft.replace(path)
    _fsync(path.parent)
    return found


def thin_out(folder: Path, keep: int) -> list[Path]:
    """The oldest of the folder's dated backups go, until `keep` are left."""
    old = sorted(folder.glob(NAMED))[:-keep] if keep else []
    for path in old:
        path.unlink()
    return old


class Encoder(DjangoJSONEncoder):
    """Pictures as base64, which is what their column reads."""

    def default(self, value: Any) -> Any:
        return b64encode(value).decode() if isinstance(value, bytes | memoryview) else super().default(value)


class Summed:
    """Lines on their way into the file, and the digest of all of them."""

    def __init__(self, file: IO[str]) -> None:
        self.file, self.sum = file, sha256()

    def line(self, what: dict[str, Any]) -> None:
        text = json.dumps(what, cls=Encoder, ensure_ascii=False, separators=(",", ":")) + "\n"
        self.sum.update(text.encode())
        self.file.write(text)


def _write(out: Summed) -> None:
    out.line({"format": FORMAT, "v": FORMAT_VERSION, "versions": versions()})
    counts = dict.fromkeys(TABLES, 0)
    for name, model in TABLES.items():
        for row in _rows(model):
            out.line({"t": name, "r": row})
            counts[name] += 1
    out.line({"end": counts, "sha256": out.sum.hexdigest()})


def _rows(model: type[models.Model]) -> Iterator[dict[str, Any]]:
    if wanted := columns(model):
        rows = model._default_manager.order_by("pk").values(*wanted)
        yield from rows.iterator(chunk_size=FEW if model is Blob else MANY)


@contextmanager
def _draft(path: Path) -> Iterator[tuple[Path, IO[bytes]]]:
    """A file that is gone again unless it got its name; locked, so that nobody else takes it for a leftover."""
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    os.fchmod(handle, 0o600)
    with os.fdopen(handle, "wb") as plain:
        fcntl.flock(plain, fcntl.LOCK_EX)
        try:
            yield path, plain
        finally:
            path.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    """Drafts of backups that were killed: nobody holds them."""
    for left in folder.glob(f"*.jsonl.gz{PART}"):
        with suppress(OSError), left.open("rb") as file:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
            left.unlink()


def _fsync(folder: Path) -> None:
    handle = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
