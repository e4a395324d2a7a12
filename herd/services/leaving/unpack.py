"""A farm out of a ZIP, as a new farm. Read to its end before a row is written; then all of it, or nothing."""

from __future__ import annotations

from itertools import islice
from pathlib import Path
from typing import Any

from django.db import DatabaseError, transaction

from herd.models import Author, Erased, Farm, Person
from herd.services.audit import audit
from herd.services.epoch import next_epoch
from herd.services.make_farm import BadFarm, make_farm
from herd.services.rebuild import rebuild
from herd.services.restore import insert, model_row

from .opened import CHANGED, BadFarmFile, Opened, opened
from .parts import FOLDERS, LINES, Folder

__all__ = ["BadFarmFile", "import_farm"]
BATCH = 1000


def import_farm(path: Path, owner: Person, name: str = "") -> Farm:
    """Make the farm again, owned by `owner`. The others become names that cannot sign in until they are invited."""
    with opened(path) as found:
        found.check()
        try:
            farm = _made(found, owner, name)
        except BadFarm as error:
            raise BadFarmFile(str(error)) from error
        except DatabaseError as error:
            raise BadFarmFile(CHANGED) from error
    rebuild(farm.pk)
    return Farm.objects.get(pk=farm.pk)


@transaction.atomic
def _made(found: Opened, owner: Person, name: str) -> Farm:
    farm = make_farm(name or found.farm["name"], found.farm["zone"], owner)
    _fill(farm, found, owner)
    audit(farm, owner, "imported", found.farm["id"])
    return farm


def _fill(farm: Farm, found: Opened, owner: Person) -> None:
    for table, model in LINES.items():
        rows = found.rows(table)
        while batch := list(islice(rows, BATCH)):
            insert(model, [model(farm=farm, **model_row(model, row)) for row in batch])
    for part in FOLDERS:
        _put_in(farm, found, part)
    _name_people(farm, list(found.people()), owner)
    for key in ("seq", "outlook_rev", "clock"):
        setattr(farm, key, found.farm[key])
    farm.came_from = ",".join(part for part in (found.farm["id"], found.farm["came_from"]) if part)
    farm.epoch = next_epoch(farm.epoch)
    farm.save()


def _put_in(farm: Farm, found: Opened, part: Folder) -> None:
    for inner, content in found.folder(part.name):
        try:
            with content:
                part.take(farm.pk, inner, content)
        except ValueError as error:
            raise BadFarmFile(CHANGED) from error


def _name_people(farm: Farm, people: list[dict[str, Any]], owner: Person) -> None:
    ids = [one["person"] for one in people]
    erased = set(Erased.objects.filter(farm="", person__in=ids).values_list("person", flat=True))
    named = [one for one in people if one["person"] not in erased and one["person"] != owner.pk]
    Author.objects.bulk_create(Author(farm=farm, **one) for one in named)
