"""Receipts: how a phone proves, after the farm went back to a backup, that an entry was taken before, and as what.

A receipt is a letter for the role its author had and a signature over the farm, the entry and what it was given. Half
of the hash is kept, the least that RFC 2104 (section 5) allows: enough, since each guess is a request, and short,
since a phone gets one with each entry of its person. One that does not verify counts as none: the server's key may be
another by then, and the entry is judged like a new one.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from django.conf import settings
from django.utils.crypto import constant_time_compare

from herd.models.farm import FAMILY, HELPER, OWNER

from .wire import canonical, digest

SALT = "herd.services.receipts"
SIGNED_BYTES = 16
LETTERS = {OWNER: "o", FAMILY: "f", HELPER: "h", "": "-"}
ROLES = {letter: role for role, letter in LETTERS.items()}


@dataclass(frozen=True, slots=True)
class Taken:
    """As what an entry was taken before: its author's role, and the times it was given."""

    role: str
    eff: dict[str, Any]


def receipt(farm_id: str, event_id: str, sha256: str, author: str, role: str, eff: str) -> str:
    return next(_receipts(farm_id, event_id, sha256, author, role, eff))


def taken(farm_id: str, event: dict[str, Any], raw: bytes, shown: Any) -> Taken | None:
    """What a phone's proof says, {"receipt", "eff"}, or None where it proves nothing."""
    given = shown if isinstance(shown, dict) else {}
    signed, eff = given.get("receipt"), given.get("eff") or {}
    if not isinstance(signed, str) or not isinstance(eff, dict) or (role := ROLES.get(signed[:1])) is None:
        return None
    said = _receipts(farm_id, event["id"], digest(raw), event["author"], role, canonical(eff) if eff else "")
    return Taken(role, eff) if any(constant_time_compare(one, signed) for one in said) else None


@lru_cache(maxsize=8)
def _key(secret: str) -> bytes:
    """As Django's salted_hmac derives it, once and not for each of the 500 entries of an answer."""
    return hashlib.sha256((SALT + secret).encode()).digest()


def _receipts(farm_id: str, *parts: str) -> Iterator[str]:
    """With the key of today, then with those it replaced."""
    letter, text = LETTERS[parts[3]], "\n".join((farm_id, *parts))
    for key in (settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS):
        made = hmac.digest(_key(key), text.encode(), "sha256")[:SIGNED_BYTES]
        yield letter + base64.urlsafe_b64encode(made).decode().rstrip("=")
