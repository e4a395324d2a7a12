from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from .ids import ID_LENGTH, new_id

OWNER, FAMILY, HELPER, ADVISER = "owner", "family", "helper", "adviser"
LEFT, REMOVED, ENDED = "left", "removed", "ended"
ROLES = [(role, role) for role in (OWNER, FAMILY, HELPER, ADVISER)]


class Farm(models.Model):
    """The unit of sharding. Its two counters and its clock move only while this row is locked."""

    id = models.CharField(primary_key=True, max_length=ID_LENGTH, default=new_id, editable=False)
    name = models.CharField(max_length=60)
    zone = models.CharField(max_length=60)
    epoch = models.BigIntegerField(default=1)
    seq = models.BigIntegerField(default=0)
    outlook_rev = models.BigIntegerField(default=0)
    clock = models.CharField(max_length=30, default="000000000000-0000-00000000")
    # ISO dates sort as text; "" means outlooks are due now.
    outlooks_due_on = models.CharField(max_length=10, default="", blank=True)
    science = models.CharField(max_length=20, default="", blank=True)
    # From when the worker may take the farm, and until when one has it to itself. The first goes with outlooks_due_on
    # (herd/services/due.py).
    work_at_ms = models.BigIntegerField(default=0)
    lease_until_ms = models.BigIntegerField(default=0)
    # From when the worker looks what somebody is to be told (herd/services/telling).
    tell_at_ms = models.BigIntegerField(default=0)
    made_at = models.DateTimeField(auto_now_add=True)
    # Ids this farm had on servers before, comma between: the herd rules in its log are still about those.
    came_from = models.CharField(max_length=400, default="", blank=True)

    class Meta:
        indexes: ClassVar = [
            models.Index(fields=["work_at_ms"], name="farm_by_work"),
            models.Index(fields=["tell_at_ms"], name="farm_by_telling"),
        ]


class Present(models.Manager["Membership"]):
    """Those who are on their farms; who is no longer is found by `everyone`."""

    def get_queryset(self) -> models.QuerySet[Membership]:
        return super().get_queryset().filter(gone_at=None)


class Membership(models.Model):
    """Who may do what on a farm. The row stays when that is over: what she recorded has her name and role."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="memberships", db_index=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="memberships")
    role = models.CharField(max_length=10, choices=ROLES)
    since_at = models.DateTimeField(auto_now_add=True)
    # Days of the farm, both included.
    starts_on = models.DateField(null=True, blank=True)
    ends_on = models.DateField(null=True, blank=True)
    # The does an adviser sees, by id.
    does = models.JSONField(default=list, blank=True)
    pack = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    gone_at = models.DateTimeField(null=True, blank=True)
    gone_why = models.CharField(max_length=10, default="", blank=True)

    objects: ClassVar[Present] = Present()
    everyone: ClassVar[models.Manager[Membership]] = models.Manager()

    class Meta:
        # A backup and a restore take all of them.
        default_manager_name = "everyone"
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person"], name="one_membership")]


class Device(models.Model):
    """A phone a person has sent from, for the list of phones. A phone names itself, so this gives nobody any right."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="devices", db_index=False)
    device = models.CharField(max_length=ID_LENGTH)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="devices")
    pushed_at = models.DateTimeField()
    seq = models.BigIntegerField(default=0)
    outlook_rev = models.BigIntegerField(default=0)
    app = models.CharField(max_length=20, default="", blank=True)
    pending = models.IntegerField(default=0)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "device", "person"], name="one_binding")]
