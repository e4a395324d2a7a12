from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

FINE, LOOK, BAD, NOT_SEEN = "fine", "look", "bad", "not looked at"


@dataclass(frozen=True, slots=True)
class Finding:
    """`about` names what was looked at; `do` is what a person does about it, "" when nothing."""

    level: str
    about: str
    says: str
    do: str = ""


Check = Callable[[], Iterator[Finding]]
