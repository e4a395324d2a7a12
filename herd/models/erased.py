from __future__ import annotations

from typing import ClassVar

from django.db import models

from .farm import Farm
from .ids import ID_LENGTH

FARM, PERSON = "farm", "person"


class Erased(models.Model):
    """That somebody, or a whole farm, was taken out: so phones are told, and no backup or import brings a name back.

    Ids only. `farm` is "" for somebody who is gone from every farm, `person` is "" for nobody in particular.
    """

    what = models.CharField(max_length=10)
    farm = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    person = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person", "what"], name="erased_once")]
        indexes: ClassVar = [models.Index(fields=["person"], name="erased_people")]


class Author(models.Model):
    """A name for entries of somebody who is no member: a farm that was brought here names its people this way."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="authors", db_index=False)
    person = models.CharField(max_length=ID_LENGTH)
    name = models.CharField(max_length=60)
    role = models.CharField(max_length=10, default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person"], name="one_author")]
