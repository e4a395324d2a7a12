"""Passwords of the demo people: made anew for each demo farm, easy to type on a phone, kept beside the database."""

from __future__ import annotations

import json
import os
import secrets
from pathlib import Path

from herd.models import Person

FILE = "demo_passwords.json"
CONSONANTS, VOWELS = "bdfgklmnprstvz", "aeiou"


def new_password() -> str:
    """Nine syllables in three groups: about 55 bits, no letter that looks like another."""
    groups = ("".join(_syllable() for _ in range(3)) for _ in range(3))
    return "-".join(groups)


def _syllable() -> str:
    return secrets.choice(CONSONANTS) + secrets.choice(VOWELS)


def keep(folder: Path, passwords: dict[str, str]) -> None:
    handle = os.open(folder / FILE, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w") as file:
        json.dump(passwords, file)


def still_good(folder: Path) -> dict[str, str]:
    """{name: password} of the demo people who never changed theirs; empty where there is no demo."""
    try:
        kept = json.loads((folder / FILE).read_text())
    except (FileNotFoundError, ValueError):
        return {}
    people = {person.name: person for person in Person.objects.filter(name__in=kept)}
    return {name: word for name, word in kept.items() if name in people and people[name].check_password(word)}
