"""How often something may be asked. What guards a secret, or is made for good, is counted in the database
(herd/services/limits.py); `count` counts in each worker for itself: a limit on accidents, where a count in the database
would cost more than what it counts."""

from __future__ import annotations

import time
from abc import ABC, abstractmethod
from typing import Any

from django.core.cache import caches
from rest_framework.request import Request
from rest_framework.throttling import BaseThrottle

from herd.services.limits import Busy

from .errors import ApiError

BUSY = (429, "busy", "Too many at once: the phone tries again in a moment.")


class Throttle(BaseThrottle, ABC):
    """REST framework's word for a count of ours. It goes by what was asked, so only a body counts."""

    wait_s = 0

    def allow_request(self, request: Request, view: Any) -> bool:
        try:
            if request.method in view.takes:
                self.count(request, view)
        except Busy as busy:
            self.wait_s = busy.wait_s
            return False
        return True

    def wait(self) -> float:
        return self.wait_s

    @abstractmethod
    def count(self, request: Request, view: Any) -> None:
        """Busy where it was too often."""


def count(key: str, most: int, window_s: int) -> None:
    cache = caches["worker"]
    slot = f"{key}:{int(time.time()) // window_s}"
    cache.add(slot, 0, window_s)
    if cache.incr(slot) > most:
        raise ApiError(*BUSY)
