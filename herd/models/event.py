from __future__ import annotations

from typing import ClassVar

from django.db import models

from .farm import Farm
from .ids import ID_LENGTH

# Refused: in the log, and never folded. Phones that hold one are told so (Ruling).
OK, PARKED, REFUSED = "ok", "parked", "refused"


class Event(models.Model):
    """One fact, kept for good. `raw` is what the phone sent, to the byte; every other column is a way to find it.

    The same id may exist on two farms, and neither learns of the other.
    """

    pk = models.CompositePrimaryKey("farm_id", "seq")
    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="events", db_index=False)
    seq = models.BigIntegerField()
    id = models.CharField(max_length=ID_LENGTH)
    kind = models.CharField(max_length=40)
    v = models.IntegerField()
    subject = models.CharField(max_length=ID_LENGTH)
    # The kind a correction's content is written in; for every other event its own kind.
    form = models.CharField(max_length=40)
    on = models.CharField(max_length=10)
    happened_ms = models.BigIntegerField()
    hlc = models.CharField(max_length=30)
    eff = models.CharField(max_length=120, default="", blank=True)
    raw = models.TextField()
    sha256 = models.CharField(max_length=64)
    author = models.CharField(max_length=ID_LENGTH)
    device = models.CharField(max_length=ID_LENGTH)
    received_ms = models.BigIntegerField()
    # What its author was on the farm when it was taken: roles change, and it may be judged later. "" is from before.
    role = models.CharField(max_length=10, default="", blank=True)
    fold_status = models.CharField(max_length=8, default=OK)
    # The subject or the event a parked one waits for; "" while this build does not know its kind.
    waits_for = models.CharField(max_length=ID_LENGTH, default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "id"], name="one_event_an_id")]
        indexes: ClassVar = [
            models.Index(fields=["farm", "subject", "kind", "happened_ms"], name="event_of_subject"),
            models.Index(fields=["farm", "kind", "on"], name="event_by_kind"),
            models.Index(fields=["farm", "waits_for"], name="event_waiting", condition=models.Q(fold_status=PARKED)),
        ]


class Ruling(models.Model):
    """An entry of the log that was found not to count, and why; code "" when it counts again.

    `rev` is the farm's outlook_rev at which that was said: phones behind it are told.
    """

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="rulings", db_index=False)
    seq = models.BigIntegerField()
    rev = models.BigIntegerField()
    code = models.CharField(max_length=20, default="", blank=True)
    why = models.CharField(max_length=400, default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "seq"], name="one_ruling")]
        indexes: ClassVar = [models.Index(fields=["farm", "rev"], name="ruling_by_rev")]


class Quarantine(models.Model):
    """A refused entry and why, so that nothing somebody typed in a barn is ever gone."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="quarantine", db_index=False)
    sha256 = models.CharField(max_length=64)
    event_id = models.CharField(max_length=40, default="", blank=True)
    raw = models.TextField()
    code = models.CharField(max_length=20)
    why = models.CharField(max_length=400)
    sender = models.CharField(max_length=ID_LENGTH)
    device = models.CharField(max_length=ID_LENGTH)
    received_ms = models.BigIntegerField()
    # How far the sender's clock was behind ours, to put its times right if the entry is let in later.
    offset_ms = models.BigIntegerField(default=0)
    # What an owner has said of it; "" while nobody has.
    decided = models.CharField(max_length=10, default="", blank=True)
    decided_by = models.CharField(max_length=ID_LENGTH, default="", blank=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "sha256"], name="one_refusal")]
        indexes: ClassVar = [
            models.Index(fields=["farm", "code", "decided"], name="refusal_by_code"),
            models.Index(fields=["farm", "sender", "received_ms"], name="refusals_of_a_day"),
        ]
