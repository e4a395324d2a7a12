"""Several reads that belong together, without holding up anybody who writes."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from django.db import connection, transaction


@contextmanager
def one_moment() -> Iterator[None]:
    """Everything read inside is of one instant. Inside another transaction that one's view stands."""
    wrapper: Any = connection
    if wrapper.in_atomic_block:
        yield
    elif wrapper.vendor == "sqlite":
        before, wrapper.transaction_mode = wrapper.transaction_mode, "DEFERRED"
        try:
            with transaction.atomic():
                yield
        finally:
            wrapper.transaction_mode = before
    else:
        with transaction.atomic():
            with wrapper.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            yield
