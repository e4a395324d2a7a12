"""One notice to one browser's maker: closed for that browser alone, signed with this server's key, over https to a
public address and no other. A phone says where it is reached, so the address is looked at before anything is sent."""

from __future__ import annotations

import ssl
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPException, HTTPSConnection
from ipaddress import ip_address
from socket import IPPROTO_TCP, create_connection, getaddrinfo
from urllib.parse import urlsplit

from django.conf import settings

from .vapid import signed

LONGEST_S = 5
GONE = (404, 410)
# No answer at all, or an address that is none of ours to ask.
NO_ANSWER, CLOSED = 0, -1
MOST_ENDPOINT = 1000


@dataclass(frozen=True, slots=True)
class Letter:
    """`topic`: what has not been delivered yet of the same is replaced."""

    endpoint: str
    p256dh: str
    auth: str
    body: bytes
    topic: str
    urgent: bool
    lasts_s: int


@dataclass(frozen=True, slots=True)
class Answer:
    status: int
    after_s: int = 0

    @property
    def taken(self) -> bool:
        return 200 <= self.status < 300


class NotPublic(ValueError):
    """An address inside the house, or one that leads nowhere."""


def post(letter: Letter) -> Answer:
    try:
        with _opened(letter.endpoint) as connection:
            connection.request("POST", _path(letter.endpoint), _closed(letter), _headers(letter))
            answer = connection.getresponse()
            answer.read(2000)
            return Answer(answer.status, _after(answer.getheader("Retry-After", "")))
    except NotPublic:
        return Answer(CLOSED)
    except (OSError, HTTPException):
        return Answer(NO_ANSWER)


def is_allowed(endpoint: str) -> bool:
    """By its look alone; where it leads is asked when something is sent."""
    try:
        parts = urlsplit(endpoint)
        port = parts.port
    except ValueError:
        return False
    if settings.PUSH_TO_OURSELVES:
        return parts.scheme in ("http", "https") and bool(parts.hostname)
    return parts.scheme == "https" and "." in (parts.hostname or "") and not parts.username and port in (None, 443)


def public_address(host: str, port: int) -> str:
    """The address that is then connected to: asked twice, a name may lead elsewhere."""
    try:
        found = [str(row[4][0]) for row in getaddrinfo(host, port, proto=IPPROTO_TCP)]
    except UnicodeError as error:
        raise NotPublic(host) from error
    if not settings.PUSH_TO_OURSELVES and not all(_is_public(one) for one in found):
        raise NotPublic(host)
    return found[0]


def _is_public(address: str) -> bool:
    there = ip_address(address)
    inner = getattr(there, "ipv4_mapped", None) or there
    return inner.is_global and not inner.is_multicast and not inner.is_reserved


class _Pinned(HTTPSConnection):
    """To one address, under the name the certificate is for."""

    def __init__(self, host: str, port: int, address: str) -> None:
        super().__init__(host, port, timeout=LONGEST_S, context=ssl.create_default_context())
        self.address = address

    def connect(self) -> None:
        plain = create_connection((self.address, self.port), LONGEST_S)
        self.sock = ssl.create_default_context().wrap_socket(plain, server_hostname=self.host)


class _opened:  # noqa: N801
    def __init__(self, endpoint: str) -> None:
        if not is_allowed(endpoint):
            raise NotPublic(endpoint)
        parts = urlsplit(endpoint)
        host, secure = parts.hostname or "", parts.scheme == "https"
        port = parts.port or (443 if secure else 80)
        address = public_address(host, port)
        self.connection = _Pinned(host, port, address) if secure else HTTPConnection(address, port, timeout=LONGEST_S)

    def __enter__(self) -> HTTPConnection:
        return self.connection

    def __exit__(self, *_: object) -> None:
        self.connection.close()


def _path(endpoint: str) -> str:
    parts = urlsplit(endpoint)
    return f"{parts.path or '/'}{'?' + parts.query if parts.query else ''}"


def _closed(letter: Letter) -> bytes:
    # Late: with it comes a whole client for the web, and only the worker sends.
    from pywebpush import WebPusher

    keys = {"p256dh": letter.p256dh, "auth": letter.auth}
    pusher = WebPusher({"endpoint": letter.endpoint, "keys": keys})
    return bytes(pusher.encode(letter.body, "aes128gcm")["body"])


def _headers(letter: Letter) -> dict[str, str]:
    return {
        "Authorization": signed(settings.VAPID_KEY_FILE, letter.endpoint, settings.PUSH_CONTACT),
        "Content-Encoding": "aes128gcm",
        "Content-Type": "application/octet-stream",
        "TTL": str(letter.lasts_s),
        "Topic": letter.topic,
        "Urgency": "high" if letter.urgent else "normal",
    }


def _after(said: str) -> int:
    return min(int(said), 24 * 3600) if said.isdigit() else 0
