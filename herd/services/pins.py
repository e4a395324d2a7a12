"""A PIN of four to six digits says who of a shared phone's people is in the barn. It guards no door: so few digits are
guessed in a moment by whoever has the phone's storage, and a phone without a signal must be able to check it."""

from __future__ import annotations

import base64
import hashlib
import os
import re

from django.utils.crypto import constant_time_compare

from herd.models import Person

ROUNDS = 100_000
DIGITS = re.compile(r"[0-9]{4,6}")


class BadPin(ValueError):
    pass


def set_pin(person: Person, pin: str) -> None:
    """ "" takes it away."""
    if pin and not DIGITS.fullmatch(pin):
        raise BadPin("Choose four to six digits.")
    salt = base64.b64encode(os.urandom(16)).decode()
    person.pin = f"{ROUNDS}${salt}${_hashed(pin, salt, ROUNDS)}" if pin else ""
    person.save(update_fields=["pin"])


def is_pin(person: Person, pin: str) -> bool:
    rounds, salt, held = person.pin.split("$")
    return bool(DIGITS.fullmatch(pin)) and constant_time_compare(held, _hashed(pin, salt, int(rounds)))


def verifier(person: Person) -> dict[str, object] | None:
    """PBKDF2 with SHA-256, salt and hash in base64: what a browser can work out by itself."""
    if not person.pin:
        return None
    rounds, salt, held = person.pin.split("$")
    return {"rounds": int(rounds), "salt": salt, "hash": held}


def _hashed(pin: str, salt: str, rounds: int) -> str:
    return base64.b64encode(hashlib.pbkdf2_hmac("sha256", pin.encode(), base64.b64decode(salt), rounds)).decode()
