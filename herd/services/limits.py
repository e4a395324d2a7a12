"""How often something may be tried, counted in the database: the same for every worker and both databases."""

from __future__ import annotations

from dataclasses import dataclass

from django.db import connection

from herd.models import Tries

from .clock import now_ms
from .wire import digest

MINUTE_S, HOUR_S, DAY_S = 60, 3600, 24 * 3600
# One statement, so that two workers never both see the last free place.
HIT = """
INSERT INTO {table} (key, count, until_ms) VALUES (%s, 1, %s)
ON CONFLICT (key) DO UPDATE SET
  count = CASE WHEN {table}.until_ms <= %s THEN 1 ELSE {table}.count + 1 END,
  until_ms = CASE WHEN {table}.until_ms <= %s THEN excluded.until_ms ELSE {table}.until_ms END
RETURNING count, until_ms
"""


class Busy(Exception):
    """Too often: again after `wait_s` seconds."""

    def __init__(self, wait_s: int) -> None:
        super().__init__(f"again in {wait_s} s")
        self.wait_s = wait_s


@dataclass(frozen=True, slots=True)
class Limit:
    """`most` within `window_s`, for each key."""

    name: str
    most: int
    window_s: int

    def key(self, of: str) -> str:
        """What people type does not stand in the table: a password may have been typed in the place of a name."""
        return f"{self.name}:{digest(of.encode(errors='backslashreplace'))[:40]}"


def hit(limit: Limit, of: str) -> None:
    """Count one try; Busy once there were too many. Not inside a transaction that may be undone."""
    now = now_ms()
    table = connection.ops.quote_name(Tries._meta.db_table)
    with connection.cursor() as cursor:
        cursor.execute(HIT.format(table=table), [limit.key(of), now + limit.window_s * 1000, now, now])
        count, until_ms = cursor.fetchone()
    if count > limit.most:
        raise Busy(max(1, -(-(until_ms - now) // 1000)))


def clear(limit: Limit, of: str) -> None:
    Tries.objects.filter(key=limit.key(of)).delete()


def give_back(limit: Limit, of: str) -> None:
    """What was counted turned out to be no failure."""
    with connection.cursor() as cursor:
        table = connection.ops.quote_name(Tries._meta.db_table)
        cursor.execute(f"UPDATE {table} SET count = count - 1 WHERE key = %s AND count > 0", [limit.key(of)])


def forget_old() -> int:
    return Tries.objects.filter(until_ms__lte=now_ms()).delete()[0]
