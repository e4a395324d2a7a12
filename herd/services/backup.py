"""Everything that cannot be made again, as lines of JSON: readable without us, and the same from either database."""

from __future__ import annotations

import gzip
import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import IO, Any

from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.core.serializers.json import DjangoJSONEncoder
from django.db import connection, models, transaction

from herd.models import Audit, Device, Event, Farm, Invitation, Membership, Person, Quarantine, Ruling

from .versions import versions

# 2 has rulings, 3 what people sign in with and are invited by. All are read.
FORMAT, FORMAT_VERSION, READ = "mangerline-backup", 3, (1, 2, 3)
# Parents before children: a restore reads in this order.
TABLES: dict[str, type[models.Model]] = {
    "person": Person,
    "email": EmailAddress,
    "passkey": Authenticator,
    "farm": Farm,
    "membership": Membership,
    "invitation": Invitation,
    "device": Device,
    "event": Event,
    "ruling": Ruling,
    "quarantine": Quarantine,
    "audit": Audit,
}


def columns(model: type[models.Model]) -> list[str]:
    """What the table holds now: before an upgrade it lacks what the code knows already."""
    table = model._meta.db_table
    if table not in connection.introspection.table_names():
        return []
    with connection.cursor() as cursor:
        there = {column.name for column in connection.introspection.get_table_description(cursor, table)}
    return [field.attname for field in model._meta.concrete_fields if field.column in there]


def backup(path: Path) -> dict[str, int]:
    """Write one moment of the database to a file only its owner can read. Rows per table."""
    draft = path.with_name(path.name + ".part")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "wb") as plain:
        with gzip.open(plain, "wt", encoding="utf-8") as file, transaction.atomic():
            counts = _write(file)
        plain.flush()
        os.fsync(plain.fileno())
    draft.replace(path)
    return counts


def _write(file: IO[str]) -> dict[str, int]:
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
    _line(file, {"format": FORMAT, "v": FORMAT_VERSION, "versions": versions()})
    counts = dict.fromkeys(TABLES, 0)
    for name, model in TABLES.items():
        for row in _rows(model):
            _line(file, {"t": name, "r": row})
            counts[name] += 1
    _line(file, {"end": counts})
    return counts


def _rows(model: type[models.Model]) -> Iterator[dict[str, Any]]:
    if wanted := columns(model):
        yield from model._default_manager.order_by("pk").values(*wanted).iterator(chunk_size=2000)


def _line(file: IO[str], what: dict[str, Any]) -> None:
    file.write(json.dumps(what, cls=DjangoJSONEncoder, ensure_ascii=False, separators=(",", ":")) + "\n")
