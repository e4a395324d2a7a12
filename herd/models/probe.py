from __future__ import annotations

from django.db import models


class Probe(models.Model):
    """One row that is written to find out whether writing works. It says nothing else."""

    at_ms = models.BigIntegerField(default=0)
