"""The key by which browsers' makers know this server's notices from anybody else's (VAPID, RFC 8292). Made once: with
another one no phone is reached until it has subscribed anew."""

from __future__ import annotations

import time
from base64 import urlsafe_b64decode, urlsafe_b64encode
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urlsplit

from ..made_once import made_once

if TYPE_CHECKING:
    from py_vapid import Vapid02

LASTS_S = 12 * 3600


class BadKey(ValueError):
    """The file holds no key."""


def public_key(path: Path) -> str:
    """As a browser takes it: the point, uncompressed, in base64url."""
    from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

    return _text(_vapid(path).public_key.public_bytes(Encoding.X962, PublicFormat.UncompressedPoint))


def signed(path: Path, endpoint: str, contact: str) -> str:
    """What stands in the Authorization header for that browser's maker, and for nobody else."""
    parts = urlsplit(endpoint)
    claims = {"aud": f"{parts.scheme}://{parts.netloc}", "exp": int(time.time()) + LASTS_S, "sub": contact}
    return str(_vapid(path).sign(claims)["Authorization"])


def _vapid(path: Path) -> Vapid02:
    return _read(made_once(path, _made))


@cache
def _read(text: str) -> Vapid02:
    from py_vapid import Vapid02

    try:
        if len(urlsafe_b64decode(text.strip() + "=")) != 32:
            raise ValueError(len(text))
        return Vapid02.from_raw(text.strip().encode())
    except ValueError as error:
        raise BadKey("The key for notices is spoilt: bring it back from a copy of the data folder.") from error


def _made() -> str:
    from cryptography.hazmat.primitives.asymmetric import ec

    return _text(ec.generate_private_key(ec.SECP256R1()).private_numbers().private_value.to_bytes(32, "big"))


def _text(raw: bytes) -> str:
    return urlsafe_b64encode(raw).rstrip(b"=").decode()
