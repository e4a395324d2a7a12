from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from .farm import ROLES, Farm
from .ids import ID_LENGTH, new_id


class Invitation(models.Model):
    """A place on a farm for whoever shows its secret, once. Of the secrets only hashes are kept."""

    id = models.CharField(primary_key=True, max_length=ID_LENGTH, default=new_id, editable=False)
    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="invitations", db_index=False)
    role = models.CharField(max_length=10, choices=ROLES)
    # Whom it is for, in the owner's words.
    whom = models.CharField(max_length=60, default="", blank=True)
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, on_delete=models.SET_NULL, related_name="+", db_index=False
    )
    made_at = models.DateTimeField(auto_now_add=True)
    until_at = models.DateTimeField()
    token_sha256 = models.CharField(max_length=64, unique=True)
    # The first letters of the code find the invitation, so that a wrong guess can be counted against it.
    code_finds = models.CharField(max_length=4, default="", blank=True)
    code_hash = models.CharField(max_length=64, default="", blank=True)
    code_until_at = models.DateTimeField(null=True, blank=True)
    code_wrong = models.IntegerField(default=0)
    used_by = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    used_at = models.DateTimeField(null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)
    starts_on = models.DateField(null=True, blank=True)
    ends_on = models.DateField(null=True, blank=True)
    does = models.JSONField(default=list, blank=True)
    pack = models.CharField(max_length=ID_LENGTH, default="", blank=True)

    class Meta:
        indexes: ClassVar = [
            models.Index(fields=["farm", "until_at"], name="invitation_of_farm"),
            models.Index(fields=["code_finds"], name="invitation_by_code"),
        ]


class Seat(models.Model):
    """Somebody who has signed in on a browser and not out again. A browser several people share has several."""

    browser = models.CharField(max_length=40)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="seats")
    agent = models.CharField(max_length=200, default="", blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    used_at = models.DateTimeField()
    # Wrong PINs in a row; from five on only her password will do.
    wrong_pins = models.IntegerField(default=0)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["browser", "person"], name="one_seat")]


class Tries(models.Model):
    """How often something was tried within a window, over all workers."""

    key = models.CharField(primary_key=True, max_length=120)
    count = models.IntegerField()
    until_ms = models.BigIntegerField()


class CacheRow(models.Model):
    """The table of Django's database cache, so that all workers share it. Made here because migrations run anyway."""

    cache_key = models.CharField(primary_key=True, max_length=255)
    value = models.TextField()
    expires = models.DateTimeField(db_index=True)

    class Meta:
        db_table = "mangerline_cache"
