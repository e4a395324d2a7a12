"""A farm out of a ZIP, as a new farm. Read to its end before a row is written; then all of it, or nothing."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Any

from django.db import DataError, IntegrityError, models, transaction

from herd.models import Author, Erased, Event, Farm, Person
from herd.services.append import Entry, append
from herd.services.audit import audit
from herd.services.epoch import next_epoch
from herd.services.make_farm import BadFarm, make_farm
from herd.services.rebuild import fold_again
from herd.services.recompile import recompile
from herd.services.restore import insert, model_row

from .opened import CHANGED, BadFarmFile, Opened, opened
from .parts import FOLDERS, LINES, Folder

__all__ = ["BadFarmFile", "import_farm"]
BATCH = 1000
# A file of a build before has not every column.
LACKING: dict[str, Any] = {
    one.attname: one.get_default() if one.has_default() else None for one in Event._meta.concrete_fields
}


def import_farm(path: Path, owner: Person, name: str = "") -> Farm:
    """Make the farm again, owned by `owner`. The others become names that cannot sign in until they are invited."""
    with opened(path) as found:
        found.check()
        farm = take_in(found, owner, name)
    recompile(farm.pk)
    return Farm.objects.get(pk=farm.pk)


def take_in(found: Opened, owner: Person, name: str) -> Farm:
    """Of a file that was checked. Its outlooks are due afterwards."""
    try:
        return _made(found, owner, name)
    except BadFarm as error:
        raise BadFarmFile(CHANGED[0], str(error)) from error
    # What a row may say and no column holds.
    except (DataError, IntegrityError, OverflowError, UnicodeError) as error:
        raise BadFarmFile(*CHANGED) from error


@transaction.atomic
def _made(found: Opened, owner: Person, name: str) -> Farm:
    farm = make_farm(name or found.farm["name"], found.farm["zone"], owner)
    _fill(farm, found, owner)
    audit(farm, owner, "imported", found.farm["id"])
    fold_again(farm.pk)
    return farm


def _fill(farm: Farm, found: Opened, owner: Person) -> None:
    for table, model in LINES.items():
        rows = found.rows(table)
        while batch := list(islice(rows, BATCH)):
            _rows_in(farm, model, [model_row(model, row) for row in batch])
    for part in FOLDERS:
        _put_in(farm, found, part)
    _name_people(farm, list(found.people()), owner)
    for key in ("seq", "outlook_rev", "clock"):
        setattr(farm, key, found.farm[key])
    farm.came_from = ",".join(part for part in (found.farm["id"], found.farm["came_from"]) if part)
    farm.epoch = next_epoch(farm.epoch)
    farm.save()


def _rows_in(farm: Farm, model: type[models.Model], rows: list[dict[str, Any]]) -> None:
    if model is Event:
        # Most of a file. Everybody else's writing waits meanwhile, where the database is SQLite.
        append([Entry(**{**LACKING, **row, "farm_id": farm.pk}) for row in rows])
    else:
        insert(model, [model(farm=farm, **row) for row in rows])


def _put_in(farm: Farm, found: Opened, part: Folder) -> None:
    for inner, content in found.folder(part.name):
        try:
            with content:
                part.take(farm.pk, inner, content)
        except ValueError as error:
            raise BadFarmFile(*CHANGED) from error


def _name_people(farm: Farm, people: list[dict[str, Any]], owner: Person) -> None:
    ids = [one["person"] for one in people]
    erased = set(Erased.objects.filter(farm="", person__in=ids).values_list("person", flat=True))
    named = [one for one in people if one["person"] not in erased and one["person"] != owner.pk]
    Author.objects.bulk_create(Author(farm=farm, **one) for one in named)
