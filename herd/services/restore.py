"""A backup in the place of everything there is. Each farm gets a new epoch, so phones offer their entries again."""

from __future__ import annotations

import logging
from collections.abc import Collection, Iterator
from pathlib import Path
from typing import Any

from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.management.color import no_style
from django.db import connection, models, transaction

from herd.models import Farm, Folded, OutlookRow

from .audit import audit
from .backup import FEW, TABLES
from .backup_file import BadBackup, check, rows
from .epoch import next_epoch
from .keys import compare, held_now, keep_away
from .rebuild import rebuild

__all__ = ["BadBackup", "checked", "restore"]
log = logging.getLogger(__name__)
MOST_WEIGHT = 2000


def restore(path: Path, let_back: Collection[str] = ()) -> dict[str, int]:
    """Read the file to its end first, then replace every row in one transaction and rebuild. Rows per table.

    `let_back`: names of people who were taken off a farm since the backup, and shall be on it again.
    """
    counts = checked(path)
    now = held_now()
    found = compare(path, now)
    used = dict(Farm.objects.values_list("id", "epoch"))
    with transaction.atomic():
        old: list[type[models.Model]] = [Folded, OutlookRow, Session, *reversed(TABLES.values())]
        for model in old:
            model._default_manager.all().delete()
        _load(path)
        set_sequences()
        for farm in Farm.objects.all():
            farm.epoch = next_epoch(max(farm.epoch, used.get(farm.id, 0)))
            farm.save(update_fields=["epoch"])
            audit(farm, None, "restored", path.name)
        keep_away(found, let_back, now)
    for farm_id in Farm.objects.values_list("id", flat=True):
        rebuild(farm_id)
    return counts


def checked(path: Path) -> dict[str, int]:
    found = check(path, TABLES)
    for event_id in found.spoilt:
        log.error("An entry's text differs from what was taken in: %s", event_id)
    return found.counts


def _load(path: Path) -> None:
    for batch in _batches(rows(path)):
        for name, model in TABLES.items():
            made = [model(**model_row(model, row)) for table, row in batch if table == name]
            insert(model, made)


def _batches(lines: Iterator[tuple[str, dict[str, Any]]]) -> Iterator[list[tuple[str, dict[str, Any]]]]:
    """By weight and not by number alone: two thousand pictures would not fit into memory."""
    batch, weight = list[tuple[str, dict[str, Any]]](), 0
    for line in lines:
        batch.append(line)
        weight += MOST_WEIGHT // FEW if line[0] == "blob" else 1
        if weight >= MOST_WEIGHT:
            yield batch
            batch, weight = [], 0
    yield batch


def insert(model: type[models.Model], made: list[Any]) -> None:
    """With the times the rows had: Django puts the time of today on a new row, whatever it carries."""
    stamped = [field.attname for field in model._meta.concrete_fields if getattr(field, "auto_now_add", False)]
    kept = [[getattr(row, name) for name in stamped] for row in made]
    model._default_manager.bulk_create(made)
    if not stamped or not made:
        return
    for row, values in zip(made, kept, strict=True):
        for name, value in zip(stamped, values, strict=True):
            setattr(row, name, value or getattr(row, name))
    model._default_manager.bulk_update(made, stamped, batch_size=200)


def model_row(model: type[models.Model], row: dict[str, Any]) -> dict[str, Any]:
    fields = {field.attname: field for field in model._meta.concrete_fields}
    return {key: fields[key].to_python(value) for key, value in row.items() if key in fields}


def set_sequences() -> None:
    """Rows came with their numbers; PostgreSQL must go on after the last one."""
    tables = {*apps.get_app_config("herd").get_models(), *TABLES.values()}
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), list(tables)):
            cursor.execute(statement)
