"""A browser as its maker's service sees it: keys of its own, and a door that takes what is sent and opens it."""

from __future__ import annotations

import json
import threading
from base64 import urlsafe_b64decode, urlsafe_b64encode
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import http_ece
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

SECRET = b"0123456789abcdef"


def text(raw: bytes) -> str:
    return urlsafe_b64encode(raw).rstrip(b"=").decode()


def raw(said: str) -> bytes:
    return urlsafe_b64decode(said + "=" * (-len(said) % 4))


class Browser:
    def __init__(self) -> None:
        self.key = ec.generate_private_key(ec.SECP256R1())

    def says(self, endpoint: str) -> dict[str, str]:
        """What its page hands to the server."""
        point = self.key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
        return {"endpoint": endpoint, "p256dh": text(point), "auth": text(SECRET)}

    def opens(self, body: bytes) -> dict[str, Any]:
        plain = http_ece.decrypt(body, private_key=self.key, auth_secret=SECRET, version="aes128gcm")
        return dict(json.loads(plain))


@dataclass
class Got:
    path: str
    headers: dict[str, str]
    body: bytes


@dataclass
class Maker:
    """Takes everything with 201, or with what `answers` holds for a path."""

    got: list[Got] = field(default_factory=list)
    answers: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        maker = self

        class Door(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                body = self.rfile.read(int(self.headers["Content-Length"]))
                maker.got.append(Got(self.path, {k.lower(): v for k, v in self.headers.items()}, body))
                self.send_response(maker.answers.get(self.path, 201))
                self.send_header("Content-Length", "0")
                self.end_headers()

            def log_message(self, *_: Any) -> None:
                pass

        self.http = ThreadingHTTPServer(("127.0.0.1", 0), Door)
        threading.Thread(target=self.http.serve_forever, daemon=True).start()

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.http.server_address[1]}"

    def close(self) -> None:
        self.http.shutdown()
        self.http.server_close()


def claims(authorization: str) -> tuple[dict[str, Any], str]:
    """What a VAPID header claims, once its signature is found to be by the key it names; and that key."""
    scheme, _, rest = authorization.partition(" ")
    assert scheme == "vapid"
    parts = dict(part.strip().split("=", 1) for part in rest.split(","))
    head, body, signature = parts["t"].split(".")
    assert json.loads(raw(head)) == {"typ": "JWT", "alg": "ES256"}
    key = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), raw(parts["k"]))
    r, s = (int.from_bytes(half, "big") for half in (raw(signature)[:32], raw(signature)[32:]))
    key.verify(encode_dss_signature(r, s), f"{head}.{body}".encode(), ec.ECDSA(hashes.SHA256()))
    return json.loads(raw(body)), parts["k"]
