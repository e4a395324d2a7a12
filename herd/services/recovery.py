"""The printed code that opens an account whose password is forgotten. Only a hash of it is kept, and it works once."""

from __future__ import annotations

import secrets

from django.db import transaction
from django.utils.crypto import constant_time_compare

from herd.models import Person

from .audit import audit
from .names import as_typed as name_typed
from .wire import digest

# Nothing that is taken for something else on paper: no 0 O, 1 I L, 8 B, 5 S, 2 Z, U V.
LETTERS = "ACDEFGHJKMNPQRTWXY34679"
GROUPS, IN_A_GROUP = 5, 4


def secret_of(length: int) -> str:
    return "".join(secrets.choice(LETTERS) for _ in range(length))


def as_typed(code: str) -> str:
    """However it was written down: small letters, spaces, dashes."""
    return "".join(letter for letter in code.upper() if letter.isalnum())


def new_recovery_code(person: Person) -> str:
    """To be shown once. Twenty letters of 23 are 90 bits: a plain hash of so much is safe to keep."""
    code = "-".join(secret_of(IN_A_GROUP) for _ in range(GROUPS))
    person.recovery = digest(as_typed(code))
    person.save(update_fields=["recovery"])
    audit(None, person, "recovery_code_made")
    return code


def recover(name: str, code: str, password: str) -> tuple[Person, str] | None:
    """A new password for the code, and the next code; None where they do not belong together.

    All her sessions and seats end by themselves: each is bound to the password it was opened with.
    """
    with transaction.atomic():
        person = Person.objects.select_for_update().filter(name__iexact=name_typed(name), is_active=True).first()
        held = person.recovery if person else ""
        if not constant_time_compare(held or "-", digest(as_typed(code))) or not person:
            if person:
                audit(None, person, "recovery_failed")
            return None
        person.set_password(password)
        person.save(update_fields=["password"])
        audit(None, person, "password_reset", "by the printed code")
        return person, new_recovery_code(person)
