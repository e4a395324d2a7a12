from __future__ import annotations

from typing import ClassVar

from django.db import models

from .farm import Farm
from .ids import ID_LENGTH


class Audit(models.Model):
    """Who did what outside the log: sign-ins, people, roles, restores. Rows are added and never changed."""

    farm = models.ForeignKey(Farm, null=True, on_delete=models.CASCADE, related_name="audit", db_index=False)
    at = models.DateTimeField(auto_now_add=True)
    person = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    what = models.CharField(max_length=40)
    detail = models.CharField(max_length=400, default="", blank=True)

    class Meta:
        indexes: ClassVar = [models.Index(fields=["farm", "at"], name="audit_by_time")]
