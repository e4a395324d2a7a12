"""Marks on cursors: how a phone proves that this farm handed it a cursor the log no longer reaches.

Only that starts a new epoch, so it must not be had by asking. A mark holds the epoch too: it proves one loss, once.
"""

from __future__ import annotations

import base64
from collections.abc import Iterator

from django.conf import settings
from django.utils.crypto import constant_time_compare, salted_hmac

SALT = "herd.services.cursor_marks"
SIGNED_BYTES = 12


def mark_of(farm_id: str, epoch: int, seq: int, outlook_rev: int) -> str:
    return next(_marks(farm_id, epoch, seq, outlook_rev))


def is_ours(mark: str, farm_id: str, epoch: int, seq: int, outlook_rev: int) -> bool:
    said = mark.encode(errors="replace")
    return any(constant_time_compare(one.encode(), said) for one in _marks(farm_id, epoch, seq, outlook_rev))


def _marks(farm_id: str, *numbers: int) -> Iterator[str]:
    """With the key of today, then with those it replaced."""
    text = "\n".join((farm_id, *map(str, numbers)))
    for key in (settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS):
        made = salted_hmac(SALT, text, secret=key, algorithm="sha256").digest()[:SIGNED_BYTES]
        yield base64.urlsafe_b64encode(made).decode()
