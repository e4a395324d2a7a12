from __future__ import annotations

from typing import ClassVar

from django.conf import settings
from django.db import models

from .accounts import Seat
from .farm import Farm
from .ids import ID_LENGTH


class PushSubscription(models.Model):
    """Where a browser hears of what falls due. It goes with the person's place on that browser: signed out, no word."""

    seat = models.OneToOneField(Seat, on_delete=models.CASCADE, related_name="push")
    endpoint = models.CharField(max_length=1000)
    # The browser's own key and secret: whatever is sent is closed with them, and only it can open it.
    p256dh = models.CharField(max_length=100)
    auth = models.CharField(max_length=40)
    made_ms = models.BigIntegerField()
    ok_ms = models.BigIntegerField(default=0)
    fails = models.IntegerField(default=0)
    # After a failure nothing is tried before this.
    wait_until_ms = models.BigIntegerField(default=0)


class NoticeChoice(models.Model):
    """What a person wants to be told of a farm, and when not. Without a row, nothing."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="notice_choices", db_index=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="notice_choices")
    kinds = models.JSONField(default=list, blank=True)
    # Minutes of the farm's day; equal means none. What cannot wait comes all the same.
    quiet_from_min = models.IntegerField(default=22 * 60)
    quiet_to_min = models.IntegerField(default=6 * 60)
    language = models.CharField(max_length=5, default="en")
    # What was due before she asked to be told stands on the screen she asked from.
    since_ms = models.BigIntegerField(default=0)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person"], name="one_choice")]


class Notice(models.Model):
    """One thing one person is told, once: `tag` is the same however often it is worked out or sent."""

    farm = models.ForeignKey(Farm, on_delete=models.CASCADE, related_name="notices", db_index=False)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="notices")
    tag = models.CharField(max_length=32)
    kind = models.CharField(max_length=10)
    code = models.CharField(max_length=40)
    # A doe, or the title of a task.
    subject = models.CharField(max_length=ID_LENGTH, default="", blank=True)
    name = models.CharField(max_length=80, default="", blank=True)
    urgent = models.BooleanField(default=False)
    at_ms = models.BigIntegerField()
    made_ms = models.BigIntegerField()
    # Somebody did it, or it is no longer so: nothing more is sent of it.
    over_ms = models.BigIntegerField(null=True)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["farm", "person", "tag"], name="one_notice")]
        indexes: ClassVar = [models.Index(fields=["farm", "person", "at_ms"], name="notice_of_farm")]


class Sending(models.Model):
    """A notice on its way to one browser; the row stays when it is done, so that it is not sent again."""

    notice = models.ForeignKey(Notice, on_delete=models.CASCADE, related_name="sendings", db_index=False)
    subscription = models.ForeignKey(PushSubscription, on_delete=models.CASCADE, related_name="sendings")
    # From when on it may be tried: after quiet hours, after a failure, or when whoever took it has died.
    next_ms = models.BigIntegerField()
    tries = models.IntegerField(default=0)
    done = models.BooleanField(default=False)

    class Meta:
        constraints: ClassVar = [models.UniqueConstraint(fields=["notice", "subscription"], name="one_sending")]
        indexes: ClassVar = [
            models.Index(fields=["next_ms"], name="sending_waits", condition=models.Q(done=False)),
        ]
