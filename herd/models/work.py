from __future__ import annotations

from django.db import models


class WorkerSeen(models.Model):
    """A worker that has shown itself, and what it saw waiting. It names its machine and process, not a farm."""

    name = models.CharField(primary_key=True, max_length=120)
    seen_at_ms = models.BigIntegerField()
    # Farms whose outlooks are due, and since when the longest of them has been.
    backlog = models.IntegerField(default=0)
    due_since_ms = models.BigIntegerField(null=True)


class NightlyTask(models.Model):
    """The day a task was last taken on: of several workers one does it."""

    name = models.CharField(primary_key=True, max_length=60)
    done_on = models.CharField(max_length=10, default="", blank=True)
