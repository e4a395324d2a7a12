"""Rows into the log by one plain statement: building model objects for a barn's whole morning took most of a push."""

from __future__ import annotations

from typing import NamedTuple

from django.db import connection

from herd.models import Event


class Entry(NamedTuple):
    """One row of the log. The fields are the table's columns, in its order."""

    farm_id: str
    seq: int
    id: str
    kind: str
    v: int
    subject: str
    form: str
    on: str
    happened_ms: int
    hlc: str
    eff: str
    raw: str
    sha256: str
    author: str
    device: str
    received_ms: int
    role: str
    fold_status: str
    waits_for: str


def append(rows: list[Entry]) -> None:
    if not rows:
        return
    names = ", ".join(connection.ops.quote_name(name) for name in Entry._fields)
    table = connection.ops.quote_name(Event._meta.db_table)
    with connection.cursor() as cursor:
        cursor.executemany(f"INSERT INTO {table} ({names}) VALUES ({', '.join(['%s'] * len(Entry._fields))})", rows)
