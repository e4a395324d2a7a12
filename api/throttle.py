"""Counting per key and window. Each worker counts for itself: a limit on accidents, not a wall."""

from __future__ import annotations

import time

from django.core.cache import cache

from .errors import ApiError

BUSY = (429, "busy", "Too many at once: the phone tries again in a moment.")


def count(key: str, most: int, window_s: int) -> None:
    slot = f"{key}:{int(time.time()) // window_s}"
    cache.add(slot, 0, window_s)
    if cache.incr(slot) > most:
        raise ApiError(*BUSY)
