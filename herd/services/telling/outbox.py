"""Notices on their way. A row is taken for a while, sent, and then marked as done: whoever dies between sends it again,
under the same tag, of which a phone shows one."""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

from django.db import DatabaseError, InterfaceError
from django.db.models import F

from herd.models import Farm, Membership, Notice, NoticeChoice, PushSubscription, Sending

from ..clock import now_ms
from .kinds import TRY, said
from .plan import is_told, plan, steps_over
from .post import CLOSED, GONE, Answer, Letter, post

log = logging.getLogger(__name__)
MOST = 20
SECOND_MS = 1000
TAKEN_MS = 60 * SECOND_MS
# Each failure waits twice as long, up to an hour; what is not taken in a day is let go.
FIRST_WAIT_MS, LONGEST_WAIT_MS, MOST_TRIES = 10 * SECOND_MS, 3600 * SECOND_MS, 40
LASTS_S, URGENT_LASTS_S = 6 * 3600, 2 * 3600

# Between any two steps the worker may die: a test dies at each of them.
STEPS: list[Callable[[str], None]] = []


def step(now: int | None = None) -> bool:
    """Look at the farms whose time has come, then send. False when there was nothing to do."""
    now = now or now_ms()
    farms = steps_over(now)
    for farm_id in farms:
        try:
            plan(farm_id, now)
        except (DatabaseError, InterfaceError):
            raise
        except Exception:
            # Its clocks wait; the other farms' do not.
            log.exception("Nobody is told of a farm: it is put off")
            _put_off(farm_id, now)
    _reached("planned")
    return bool(send(now)) or bool(farms)


def _put_off(farm_id: str, now: int) -> None:
    Farm.objects.filter(pk=farm_id).update(tell_at_ms=now + TAKEN_MS)


def send(now: int | None = None) -> int:
    now = now or now_ms()
    taken = [row for row in _waiting(now) if _take(row, now)]
    _reached("taken")
    letters = {row.pk: letter for row in taken if (letter := letter_of(row, now))}
    if letters:
        with ThreadPoolExecutor(min(8, len(letters))) as hands:
            answers = dict(zip(letters, hands.map(post, letters.values()), strict=True))
        _reached("posted")
    for row in taken:
        _settle(row, answers[row.pk] if row.pk in letters else None, now)
        _reached("settled")
    return len(taken)


def _waiting(now: int) -> list[Sending]:
    rows = Sending.objects.filter(done=False, next_ms__lte=now, subscription__wait_until_ms__lte=now)
    return list(rows.select_related("notice__farm", "subscription__seat").order_by("next_ms", "pk")[:MOST])


def _take(row: Sending, now: int) -> bool:
    """To itself, until it should have been done by far."""
    free = Sending.objects.filter(pk=row.pk, done=False, next_ms=row.next_ms)
    return bool(free.update(next_ms=now + TAKEN_MS, tries=F("tries") + 1))


def letter_of(row: Sending, now: int) -> Letter | None:
    """Nothing for who is no longer on the farm, nor of what is over or no longer wanted."""
    notice, place = row.notice, row.subscription
    member = Membership.objects.filter(farm=notice.farm_id, person=notice.person_id).select_related("farm").first()
    choice = NoticeChoice.objects.filter(farm=notice.farm_id, person=notice.person_id).first()
    if notice.over_ms or member is None or not is_told(member) or row.tries >= MOST_TRIES:
        return None
    if notice.kind != TRY and (choice is None or notice.kind not in choice.kinds):
        return None
    body = json.dumps(payload(notice, choice.language if choice else "en"), ensure_ascii=False).encode()
    lasts_s = URGENT_LASTS_S if notice.urgent else LASTS_S
    return Letter(place.endpoint, place.p256dh, place.auth, body, notice.tag, notice.urgent, lasts_s)


def payload(notice: Notice, language: str) -> dict[str, object]:
    title, text = said(notice.code, notice.name, language)
    waiting = Notice.objects.filter(farm=notice.farm_id, person=notice.person_id, over_ms=None).exclude(kind=TRY)
    return {
        "title": title, "body": text, "tag": notice.tag, "url": url_of(notice), "urgent": notice.urgent,
        "n": waiting.count(),
    }  # fmt: skip


def url_of(notice: Notice) -> str:
    if notice.kind == TRY:
        return "/#/farm/me/notices"
    at = f"/#/at/{notice.farm_id}"
    return f"{at}/year" if notice.kind == "task" else f"{at}/doe/{notice.subject}"


def _settle(row: Sending, answer: Answer | None, now: int) -> None:
    place = PushSubscription.objects.filter(pk=row.subscription_id)
    mine = Sending.objects.filter(pk=row.pk)
    if answer is None or answer.taken:
        mine.update(done=True)
        if answer:
            place.update(ok_ms=now, fails=0, wait_until_ms=0)
    elif answer.status in (*GONE, CLOSED):
        # The browser is no longer there, or never was: its other notices go with it.
        place.delete()
    else:
        wait_ms = max(answer.after_s * SECOND_MS, min(LONGEST_WAIT_MS, FIRST_WAIT_MS * 2 ** min(row.tries, 12)))
        mine.update(next_ms=now + wait_ms)
        place.update(fails=F("fails") + 1, wait_until_ms=now + wait_ms)


def _reached(what: str) -> None:
    for look in STEPS:
        look(what)
