"""A passkey in software, as a browser hands it over: made for an address, signs what a server asks."""

from __future__ import annotations

import hashlib
import json
import os
from typing import Any

from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from fido2 import cbor
from fido2.cose import ES256
from fido2.utils import websafe_decode, websafe_encode

PRESENT, VERIFIED, NEW_KEY = 0x01, 0x04, 0x40


class Passkey:
    def __init__(self, host: str = "localhost", origin: str = "http://localhost") -> None:
        self.key, self.id, self.count = ec.generate_private_key(ec.SECP256R1()), os.urandom(16), 0
        self.host, self.origin, self.user = host, origin, b""

    def made(self, options: dict[str, Any]) -> dict[str, Any]:
        asked = options["publicKey"]
        self.user = asked["user"]["id"]
        public = cbor.encode(dict(ES256.from_cryptography_key(self.key.public_key())))
        credential = bytes(16) + len(self.id).to_bytes(2, "big") + self.id + public
        data = self._data(PRESENT | VERIFIED | NEW_KEY) + credential
        attestation = cbor.encode({"fmt": "none", "attStmt": {}, "authData": data})
        said = {
            "clientDataJSON": self._client("webauthn.create", asked),
            "attestationObject": websafe_encode(attestation),
        }
        return self._credential({**said, "transports": ["internal"]}, {"credProps": {"rk": True}})

    def signed(self, options: dict[str, Any]) -> dict[str, Any]:
        asked, data = options["publicKey"], self._data(PRESENT | VERIFIED)
        client = self._client("webauthn.get", asked)
        hashed = hashlib.sha256(websafe_decode(client)).digest()
        signature = self.key.sign(data + hashed, ec.ECDSA(hashes.SHA256()))
        said = {
            "clientDataJSON": client,
            "authenticatorData": websafe_encode(data),
            "signature": websafe_encode(signature),
        }
        return self._credential({**said, "userHandle": self.user}, {})

    def _data(self, flags: int) -> bytes:
        self.count += 1
        return hashlib.sha256(self.host.encode()).digest() + bytes([flags]) + self.count.to_bytes(4, "big")

    def _client(self, kind: str, asked: dict[str, Any]) -> str:
        said = {"type": kind, "challenge": asked["challenge"], "origin": self.origin, "crossOrigin": False}
        return websafe_encode(json.dumps(said).encode())

    def _credential(self, response: dict[str, Any], extensions: dict[str, Any]) -> dict[str, Any]:
        named = websafe_encode(self.id)
        more = {"type": "public-key", "authenticatorAttachment": "platform", "clientExtensionResults": extensions}
        return {"id": named, "rawId": named, "response": response, **more}
