from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from .farm import Farm


class CalendarLink(models.Model):
    """A secret address at which somebody's calendar reads the farm's year. Of the secret only a hash is kept."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="calendar_links", db_index=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="calendar_links")
    secret_sha256 = models.CharField(max_length=64, unique=True)
    language = models.CharField(max_length=5, default="en")
    made_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person"], name="one_calendar_link")]
