from __future__ import annotations

from typing import ClassVar

from django.db import models

from .farm import Farm
from .ids import ID_LENGTH

BOOK = ""
# No id of a doe can be this short.
CARD = "card"
YEARS = "years"


class Folded(models.Model):
    """What the log says about one doe, pen, feed, lot or rule set. Can be thrown away and rebuilt at any time."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="folded", db_index=False)
    subject = models.CharField(max_length=ID_LENGTH)
    kind = models.CharField(max_length=10)
    json = models.TextField()
    # True until an outlook made from exactly this content is stored.
    stale = models.BooleanField(default=True)
    # Of a doe: the places in time of her latest scores, weights and milks, for the next one to be put among them
    # (herd/services/further.py); "" where she must be folded whole.
    tail = models.TextField(default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "subject", "kind"], name="one_fold")]


class OutlookRow(models.Model):
    """One compiled outlook; doe "" is the book. Can be thrown away, but then `outlook_rev` still only moves forward."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="outlooks", db_index=False)
    doe = models.CharField(max_length=ID_LENGTH, default=BOOK, blank=True)
    rev = models.BigIntegerField()
    doc = models.TextField()
    doc_sha256 = models.CharField(max_length=64)
    inputs_sha256 = models.CharField(max_length=64)
    science = models.CharField(max_length=20)
    compiled_on = models.CharField(max_length=10)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["farm", "doe"], name="one_outlook"),
            models.UniqueConstraint(fields=["farm", "rev"], name="one_outlook_a_rev"),
        ]


class ShortList(models.Model):
    """Which lasting entries a new phone needs, as found at `seq`. Can be thrown away: it is a short cut and no more."""

    farm = models.OneToOneField(Farm, on_delete=models.CASCADE, primary_key=True, related_name="short_list")
    epoch = models.IntegerField()
    build = models.CharField(max_length=40)
    seq = models.BigIntegerField()
    rev = models.BigIntegerField()
    # What was written before this stamp was cut down to the fewest.
    since = models.CharField(max_length=30)
    # Places in the log, as JSON: those on the list, and those that waited for something.
    kept = models.TextField()
    parked = models.TextField()
