from __future__ import annotations

from typing import ClassVar

from django.db import models

from .farm import Farm
from .ids import ID_LENGTH


class Blob(models.Model):
    """A picture or a recording, named by its content. Entries name it; who recorded them says whose it is.

    In the database like all else: one backup holds everything, and several machines see the same.
    """

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="blobs", db_index=False)
    sha256 = models.CharField(max_length=64)
    media = models.CharField(max_length=20)
    # Before the content: the sum of a farm's sizes is read without reading a picture.
    size = models.IntegerField()
    sender = models.CharField(max_length=ID_LENGTH)
    received_ms = models.BigIntegerField()
    content = models.BinaryField()

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "sha256"], name="one_blob")]
