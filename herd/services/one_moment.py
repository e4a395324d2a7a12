"""Reading many rows as they were at one moment, while others go on writing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.db import connection, transaction


@contextmanager
def one_moment() -> Iterator[None]:
    """The settings make every transaction of SQLite a writer's, so that none fails half-way; this one only reads.

    Inside another transaction it takes part in that one.
    """
    if connection.in_atomic_block:
        yield
    elif connection.vendor == "sqlite":
        with _deferred(), transaction.atomic():
            yield
    else:
        with transaction.atomic():
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield


@contextmanager
def _deferred() -> Iterator[None]:
    connection.ensure_connection()
    held: Any = connection
    usual = held.transaction_mode
    held.transaction_mode = "DEFERRED"
    try:
        yield
    finally:
        held.transaction_mode = usual
