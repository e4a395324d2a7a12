from __future__ import annotations

from typing import Any

import msgspec
from django.http import HttpResponse

_encode = msgspec.json.Encoder().encode


def reply(body: dict[str, Any]) -> HttpResponse:
    """JSON in which raw parts keep the bytes they came with."""
    return HttpResponse(_encode(body), content_type="application/json")
