"""Where a request comes from. What a client says of itself counts only where our own proxy has put it."""

from __future__ import annotations

import ipaddress

from django.conf import settings
from django.http import HttpRequest

UNKNOWN = "127.0.0.1"
# One house has a whole network of the newer addresses.
HOUSE = 64


def client_address(request: HttpRequest) -> str:
    """The last hop is the one our proxy has seen; all before it may be made up."""
    named = request.META.get("REMOTE_ADDR", "")
    if settings.BEHIND_PROXY:
        named = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip() or named
    try:
        return str(ipaddress.ip_address(named))
    except ValueError:
        return UNKNOWN


def client_house(request: HttpRequest) -> str:
    """What is counted by."""
    found = ipaddress.ip_address(client_address(request))
    if isinstance(found, ipaddress.IPv6Address):
        return str(ipaddress.IPv6Network((found, HOUSE), strict=False).network_address)
    return str(found)
