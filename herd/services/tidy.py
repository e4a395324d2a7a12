"""What piles up by itself and nobody needs: sessions that are over, seats nobody takes, phones not seen
for a year, counts of old tries."""

from __future__ import annotations

from datetime import timedelta

from allauth.usersessions.models import UserSession
from django.conf import settings
from django.contrib.sessions.models import Session
from django.utils import timezone

from herd.models import CacheRow, Invitation, Seat

from .leaving import arriving
from .limits import forget_old
from .phones import forget_unseen
from .telling.choices import forget_old as forget_notices

KEPT_D = 90


def tidy() -> dict[str, int]:
    now = timezone.now()
    unused = now - timedelta(seconds=settings.SESSION_COOKIE_AGE)
    over = now - timedelta(days=KEPT_D)
    return {
        "sessions": Session.objects.filter(expire_date__lt=now).delete()[0],
        # Each with an address and a browser: what is left of sessions that ended in whatever way.
        "sign_ins": UserSession.objects.exclude(session_key__in=Session.objects.values("session_key")).delete()[0],
        "seats": Seat.objects.filter(used_at__lt=unused).delete()[0],
        "invitations": Invitation.objects.filter(until_at__lt=over).delete()[0],
        "phones": forget_unseen(),
        "farm_files": arriving.forget_old(),
        "notices": forget_notices(),
        "tries": forget_old(),
        "cache": CacheRow.objects.filter(expires__lt=now).delete()[0],
    }
