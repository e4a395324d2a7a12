"""Counting per key and window, in each worker for itself: a limit on accidents, where a count in the database would
cost more than what it counts. What guards a secret is counted in herd/services/limits.py."""

from __future__ import annotations

import time

from django.core.cache import caches

from .errors import ApiError

BUSY = (429, "busy", "Too many at once: the phone tries again in a moment.")


def count(key: str, most: int, window_s: int) -> None:
    cache = caches["worker"]
    slot = f"{key}:{int(time.time()) // window_s}"
    cache.add(slot, 0, window_s)
    if cache.incr(slot) > most:
        raise ApiError(*BUSY)
