"""A backup in the place of everything there is. Each farm gets a new epoch, so phones offer their entries again."""

from __future__ import annotations

import gzip
import json
import logging
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from django.apps import apps
from django.contrib.sessions.models import Session
from django.core.management.color import no_style
from django.db import connection, models, transaction

from herd.models import Audit, Farm, Folded, OutlookRow

from .backup import FORMAT, READ, TABLES
from .epoch import next_epoch
from .rebuild import rebuild

log = logging.getLogger(__name__)
BATCH = 2000


class BadBackup(ValueError):
    """The file is not a whole backup; nothing was touched."""


def restore(path: Path) -> dict[str, int]:
    """Read the file to its end first, then replace every row in one transaction and rebuild. Rows per table."""
    counts = checked(path)
    used = dict(Farm.objects.values_list("id", "epoch"))
    with transaction.atomic():
        old: list[type[models.Model]] = [Folded, OutlookRow, Session, *reversed(TABLES.values())]
        for model in old:
            model._default_manager.all().delete()
        _load(path)
        _set_sequences()
        for farm in Farm.objects.all():
            farm.epoch = next_epoch(max(farm.epoch, used.get(farm.id, 0)))
            farm.save(update_fields=["epoch"])
            Audit.objects.create(farm=farm, what="restored", detail=path.name[:400])
    for farm_id in Farm.objects.values_list("id", flat=True):
        rebuild(farm_id)
    return counts


def checked(path: Path) -> dict[str, int]:
    found = dict.fromkeys(TABLES, 0)
    lines = _lines(path)
    first = next(lines, {})
    if first.get("format") != FORMAT or first.get("v") not in READ:
        raise BadBackup("This is not a backup this build can read.")
    for line in lines:
        if "end" in line:
            if {**dict.fromkeys(TABLES, 0), **line["end"]} != found:
                break
            return found
        found[line["t"]] += 1
    raise BadBackup("The backup is cut off or changed: nothing was restored.")


def _lines(path: Path) -> Iterator[dict[str, Any]]:
    try:
        with gzip.open(path, "rt", encoding="utf-8") as file:
            yield from map(json.loads, file)
    except (OSError, EOFError, ValueError) as error:
        raise BadBackup("The backup cannot be read: nothing was restored.") from error


def _load(path: Path) -> None:
    rows = (line for line in _lines(path) if "t" in line)
    while batch := list(islice(rows, BATCH)):
        for name, model in TABLES.items():
            made = [model(**model_row(name, line["r"])) for line in batch if line["t"] == name]
            model._default_manager.bulk_create(made)


def model_row(name: str, row: dict[str, Any]) -> dict[str, Any]:
    fields = {field.attname: field for field in TABLES[name]._meta.concrete_fields}
    return {key: fields[key].to_python(value) for key, value in row.items() if key in fields}


def _set_sequences() -> None:
    """Rows came with their numbers; PostgreSQL must go on after the last one."""
    tables = {*apps.get_app_config("herd").get_models(), *TABLES.values()}
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), list(tables)):
            cursor.execute(statement)
