"""Pictures and recordings of a farm: kept by content, within what a farm may keep."""

from __future__ import annotations

from dataclasses import dataclass

from django.conf import settings
from django.db import transaction
from django.db.models import Sum

from herd.models import Blob, Farm

from .clock import now_ms
from .media_formats import BadMedia, media_of
from .wire import digest

MB = 1_000_000
FULL = (
    "The farm's pictures and recordings take all the room they have ({mb} MB): take old ones back, and there is room"
    " again in a month."
)


class NoRoom(BadMedia):
    """What the farm may keep is used up."""


@dataclass(frozen=True, slots=True)
class Room:
    used: int
    most: int


def room_of(farm_id: str) -> Room:
    """Bytes kept for a farm, and how many may be."""
    used = Blob.objects.filter(farm_id=farm_id).aggregate(sum=Sum("size"))["sum"] or 0
    return Room(used, settings.MEDIA_MB * MB)


def keep(farm_id: str, sender: str, sha256: str, content: bytes) -> None:
    """Keep one; again changes nothing. Raises BadMedia, in words, for what is not what it says."""
    if digest(content) != sha256:
        raise BadMedia("It was changed on the way: the phone sends it again.")
    media = media_of(content)
    with transaction.atomic():
        # Two phones at once must not both find the last room free.
        Farm.objects.select_for_update().get(pk=farm_id)
        if Blob.objects.filter(farm_id=farm_id, sha256=sha256).exists():
            return
        room = room_of(farm_id)
        if room.used + len(content) > room.most:
            raise NoRoom(FULL.format(mb=settings.MEDIA_MB))
        row = {"media": media, "size": len(content), "sender": sender, "received_ms": now_ms(), "content": content}
        Blob.objects.create(farm_id=farm_id, sha256=sha256, **row)


def kept(farm_id: str, sha256: str) -> Blob | None:
    return Blob.objects.filter(farm_id=farm_id, sha256=sha256).first()
