from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from .ids import ID_LENGTH, new_id


class FarmFile(models.Model):
    """A farm's file on its way in, in parts: a weak signal sends one again and not all of it.

    In the database like pictures: several machines see the same, and a machine that dies leaves nothing lying about.
    """

    id = models.CharField(primary_key=True, max_length=ID_LENGTH, default=new_id, editable=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="farm_files")
    size = models.BigIntegerField()
    begun_ms = models.BigIntegerField()
    # The farm it became. Who asks again, because the answer was lost, gets that one and no second.
    became = models.CharField(max_length=ID_LENGTH, default="", blank=True)


class FilePart(models.Model):
    file = models.ForeignKey(FarmFile, on_delete=models.CASCADE, related_name="parts", db_index=False)
    number = models.IntegerField()
    content = models.BinaryField()

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["file", "number"], name="one_part")]
