"""Who is told what, and where: set by herself, on the browser she sits at."""

from __future__ import annotations

from base64 import urlsafe_b64decode
from typing import Any

from django.db import transaction

from herd.models import Farm, Notice, NoticeChoice, Person, PushSubscription, Seat

from ..clock import now_ms
from ..wire import digest
from .kinds import DAY_MIN, KINDS, LANGUAGES, TRY, said
from .outbox import url_of
from .plan import TOLD_WITHIN_MS, send_to_all
from .post import MOST_ENDPOINT, is_allowed

SHOWN = 30
KEPT_MS = 30 * 24 * 3600 * 1000


class BadChoice(ValueError):
    def __init__(self, where: str, why: str) -> None:
        super().__init__(why)
        self.where = where


def subscribe(seat: Seat, endpoint: str, p256dh: str, auth: str) -> None:
    """One for each person on each browser: another one takes its place, and what waits goes to that."""
    if len(endpoint) > MOST_ENDPOINT or not is_allowed(endpoint):
        raise BadChoice("endpoint", "Notices go by https to the address your browser was given.")
    if not _is_point(_raw(p256dh)) or len(_raw(auth)) != 16:
        raise BadChoice("p256dh", "Those are no keys of a browser.")
    said = {"endpoint": endpoint, "p256dh": p256dh, "auth": auth, "fails": 0, "wait_until_ms": 0}
    with transaction.atomic():
        PushSubscription.objects.update_or_create(
            seat=seat, defaults=said, create_defaults={**said, "made_ms": now_ms()}
        )
        for notice in Notice.objects.filter(person=seat.person_id, over_ms=None, at_ms__gt=now_ms() - TOLD_WITHIN_MS):
            if notice.kind != TRY:
                send_to_all(notice, now_ms())


def unsubscribe(seat: Seat | None) -> None:
    PushSubscription.objects.filter(seat=seat).delete()


def choose(farm: Farm, person: Person, asked: dict[str, Any]) -> None:
    kinds = asked["kinds"]
    if not set(kinds) <= set(KINDS):
        raise BadChoice("kinds", "Choose from the kinds of notices there are.")
    times = [asked["quiet_from_min"], asked["quiet_to_min"]]
    if not all(0 <= one < DAY_MIN for one in times):
        raise BadChoice("quiet_from_min", "Quiet hours are times of the day.")
    language = asked["language"] if asked["language"] in LANGUAGES else LANGUAGES[0]
    kept = {
        "kinds": [kind for kind in KINDS if kind in kinds], "language": language,
        "quiet_from_min": times[0], "quiet_to_min": times[1],
    }  # fmt: skip
    with transaction.atomic():
        before = NoticeChoice.objects.filter(farm=farm, person=person).first()
        if before is None or not set(kinds) <= set(before.kinds):
            kept["since_ms"] = now_ms()
        NoticeChoice.objects.update_or_create(farm=farm, person=person, defaults=kept)
        Farm.objects.filter(pk=farm.pk).update(tell_at_ms=now_ms())


def try_one(farm: Farm, person: Person) -> None:
    """By the whole way a notice goes, whatever the hour: she is looking at her phone."""
    now = now_ms()
    tag = digest(f"{farm.pk}|{person.pk}|try|{now}".encode())[:32]
    said = {"kind": TRY, "code": TRY, "urgent": True, "at_ms": now, "made_ms": now, "tag": tag}
    with transaction.atomic():
        send_to_all(Notice.objects.create(farm=farm, person=person, **said), now)


def listed(farm: Farm, person: Person, language: str) -> list[dict[str, Any]]:
    """What she was told or would have been, the newest first: for a phone on which no notice may be shown."""
    rows = Notice.objects.filter(farm=farm, person=person).exclude(kind=TRY).order_by("-at_ms", "-pk")[:SHOWN]
    return [_shown(row, language) for row in rows]


def _shown(row: Notice, language: str) -> dict[str, Any]:
    title, text = said(row.code, row.name, language)
    return {
        "tag": row.tag, "title": title, "body": text, "url": url_of(row), "at": row.at_ms, "urgent": row.urgent,
        "over": row.over_ms is not None,
    }  # fmt: skip


def forget_old() -> int:
    return int(Notice.objects.filter(made_ms__lt=now_ms() - KEPT_MS).delete()[0])


def _is_point(raw: bytes) -> bool:
    from cryptography.hazmat.primitives.asymmetric import ec

    try:
        ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), raw)
    except ValueError:
        return False
    return len(raw) == 65


def _raw(text: str) -> bytes:
    try:
        return urlsafe_b64decode(text + "=" * (-len(text) % 4))
    except ValueError:
        return b""
