"""The latest of what was seen of each subject, found by the index however long its history is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import connection

from herd.models import Event
from herd.models.event import OK, REFUSED

# SQLite takes 500 parts of one question.
AT_ONCE = 200
Row = tuple[Any, ...]


def latest(
    farm_id: str, subjects: Iterable[str], most: Mapping[str, int], columns: tuple[str, ...], before_on: str = ""
) -> list[Row]:
    """The last so many of each kind of each subject, by the time they happened. Those that count; with a date, those
    from before it that were not refused, waiting ones too."""
    pairs = [(subject, kind) for subject in sorted(subjects) for kind in most]
    found: list[Row] = []
    for first in range(0, len(pairs), AT_ONCE):
        some = pairs[first : first + AT_ONCE]
        sql = " UNION ALL ".join([_one(columns, bool(before_on))] * len(some))
        given: list[Any] = []
        for subject, kind in some:
            given += [farm_id, subject, kind, *((REFUSED, before_on) if before_on else (OK,)), most[kind]]
        with connection.cursor() as cursor:
            cursor.execute(sql, given)
            found += cursor.fetchall()
    return found


def _one(columns: tuple[str, ...], before: bool) -> str:
    quoted = connection.ops.quote_name
    names = ", ".join(quoted(name) for name in columns)
    # By a plain date SQLite would go through that kind's whole history; so it goes backwards along the subject's.
    which = f"fold_status <> %s AND {quoted('on')} || '' < %s" if before else "fold_status = %s"
    rows = f"SELECT {names} FROM {quoted(Event._meta.db_table)} WHERE farm_id = %s AND subject = %s AND kind = %s"
    ordered = f"{rows} AND {which} ORDER BY happened_ms DESC, hlc DESC, id DESC LIMIT %s"
    return f"SELECT * FROM ({ordered}) AS one"


def told_of(farm_id: str, kinds: Iterable[str]) -> set[str]:
    """Whom entries of these kinds are about: from one subject to the next along the index, however many of each."""
    table, kinds = connection.ops.quote_name(Event._meta.db_table), tuple(kinds)
    if not kinds:
        return set()
    after = f"SELECT min(subject) FROM {table} WHERE farm_id = %s AND subject > "
    of_kind = ", ".join(["%s"] * len(kinds))
    one = f"SELECT 1 FROM {table} WHERE farm_id = %s AND subject = told.subject AND kind IN ({of_kind})"
    sql = f"""
        WITH RECURSIVE told(subject) AS (
            {after} '' UNION ALL SELECT ({after} told.subject) FROM told WHERE told.subject IS NOT NULL
        ) SELECT subject FROM told WHERE subject IS NOT NULL AND EXISTS ({one})"""
    with connection.cursor() as cursor:
        cursor.execute(sql, [farm_id, farm_id, farm_id, *kinds])
        return {subject for (subject,) in cursor.fetchall()}
