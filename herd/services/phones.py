"""The phones somebody has sent from. A phone names itself: so many are kept, and those not seen for a year are not."""

from __future__ import annotations

from datetime import timedelta

from django.utils import timezone

from herd.models import Device

# More than a household ever has. One that goes from the list is taken in again when it sends.
MOST_PHONES = 50
KEPT_D = 365


def bind(bound: Device) -> None:
    fields = ["pushed_at", "seq", "outlook_rev", "app", "pending"]
    Device.objects.bulk_create(
        [bound], update_conflicts=True, unique_fields=["farm", "device", "person"], update_fields=fields
    )
    hers = Device.objects.filter(farm_id=bound.farm_id, person_id=bound.person_id).order_by("-pushed_at", "-pk")
    if too_many := list(hers.values_list("pk", flat=True)[MOST_PHONES:]):
        Device.objects.filter(pk__in=too_many).delete()


def forget_unseen() -> int:
    return Device.objects.filter(pushed_at__lt=timezone.now() - timedelta(days=KEPT_D)).delete()[0]
