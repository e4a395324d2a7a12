"""Notices made of what falls due: once for each person, however often it is worked out, and taken back where it is done
before it was sent."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from django.db import transaction

from herd.models import Farm, Membership, Notice, NoticeChoice, PushSubscription, Sending
from herd.models.farm import ADVISER

from ..clock import day_of, now_ms
from ..due import NOT_YET, starts_ms
from ..members import not_yet, roll, today_on
from ..wire import digest
from .clock import HOUR_MS, Clock
from .clocks import clocks_of
from .kinds import TRY

# What is older is told to nobody who was not told before: it stands on the farm's own pages.
TOLD_WITHIN_MS = 12 * HOUR_MS


def plan(farm_id: str, now: int | None = None) -> int:
    """What is due by now becomes notices; when to look again is kept with the farm. How many are new."""
    now = now or now_ms()
    farm = Farm.objects.get(pk=farm_id)
    wanting = listeners(farm)
    found = clocks_of(farm, now) if wanting else []
    due = [one for one in found if now - TOLD_WITHIN_MS < one.at_ms <= now]
    with transaction.atomic():
        _take_back(farm, {_tag(farm, one) for one in found}, now)
        made = sum(_notice(farm, one, choice, now) for choice in wanting for one in due if _wants(choice, one))
        # Entries that came meanwhile have set it anew, and are looked at in the next turn.
        later = _next(farm, found, now) if wanting else NOT_YET
        Farm.objects.filter(pk=farm.pk, tell_at_ms=farm.tell_at_ms).update(tell_at_ms=later)
    return made


def listeners(farm: Farm) -> list[NoticeChoice]:
    """Who is on the farm today, records there, and wants to be told of anything."""
    if not NoticeChoice.objects.filter(farm=farm).exists():
        return []
    here = [one.person_id for one in roll(farm.pk) if is_told(one)]
    return [one for one in NoticeChoice.objects.filter(farm=farm, person__in=here).order_by("pk") if one.kinds]


def is_told(member: Membership) -> bool:
    over = member.ends_on is not None and member.ends_on < today_on(member.farm)
    return member.gone_at is None and member.role != ADVISER and not over and not not_yet(member)


def _wants(choice: NoticeChoice, clock: Clock) -> bool:
    return clock.kind in choice.kinds and clock.by != choice.person_id and clock.at_ms >= choice.since_ms


def _tag(farm: Farm, clock: Clock) -> str:
    return digest(f"{farm.pk}|{clock.key}".encode())[:32]


def _notice(farm: Farm, clock: Clock, choice: NoticeChoice, now: int) -> bool:
    said = {
        "kind": clock.kind, "code": clock.code, "subject": clock.subject, "name": clock.name[:80],
        "urgent": clock.urgent, "at_ms": clock.at_ms, "made_ms": now,
    }  # fmt: skip
    notice, made = Notice.objects.get_or_create(
        farm=farm, person_id=choice.person_id, tag=_tag(farm, clock), defaults=said
    )
    if made:
        send_to_all(notice, now if clock.urgent else after_quiet(choice, farm.zone, now))
    return made


def send_to_all(notice: Notice, at_ms: int) -> None:
    places = PushSubscription.objects.filter(seat__person=notice.person_id)
    rows = [Sending(notice=notice, subscription=one, next_ms=at_ms) for one in places]
    Sending.objects.bulk_create(rows, ignore_conflicts=True)


def _take_back(farm: Farm, there: Iterable[str], now: int) -> None:
    """What is no longer so, and what is so again because somebody took back what she wrote."""
    open_ones = Notice.objects.filter(farm=farm, over_ms=None).exclude(tag__in=there).exclude(kind=TRY)
    open_ones.update(over_ms=now)
    Notice.objects.filter(farm=farm, tag__in=there, over_ms__isnull=False).update(over_ms=None)


def _next(farm: Farm, found: list[Clock], now: int) -> int:
    """The next clock, or the farm's next day: then other looks are asked for."""
    tomorrow = day_of(now, farm.zone) + timedelta(days=1)
    return min([starts_ms(tomorrow.isoformat(), farm.zone), *(one.at_ms for one in found if one.at_ms > now)])


def after_quiet(choice: NoticeChoice, zone: str, now: int) -> int:
    """Now, or when the quiet hours it falls into are over. By the farm's own clock, on the days it is moved as well."""
    here = datetime.fromtimestamp(now / 1000, ZoneInfo(zone))
    at_min, first, last = here.hour * 60 + here.minute, choice.quiet_from_min, choice.quiet_to_min
    quiet = first <= at_min < last if first <= last else at_min >= first or at_min < last
    if not quiet:
        return now
    on = here.date() + timedelta(days=0 if at_min < last else 1)
    over = datetime(on.year, on.month, on.day, last // 60, last % 60, tzinfo=ZoneInfo(zone))
    return max(now, int(over.timestamp() * 1000))


def steps_over(now: int) -> list[str]:
    """Farms to be looked at, the one that has waited longest first."""
    rows = Farm.objects.filter(tell_at_ms__lte=now).order_by("tell_at_ms").values_list("id", flat=True)
    return [str(one) for one in rows[:5]]
