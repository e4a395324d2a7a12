"""Names of people and farms as they may be: one line that shows as it was typed."""

from __future__ import annotations

import unicodedata

from .ignorable import without_ignorable

MOST = 60
# Marks that turn the direction of what follows: a name could make another one look like itself.
TURNS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
# Controls, halves of a character, private ones, ends of lines.
NOT_SHOWN = ("Cc", "Cs", "Co", "Zl", "Zp")

# Braille without a dot is a sign by its properties and a blank to the eye.
BLANK = "\u2800"


class BadName(ValueError):
    """A sentence that says what to do."""


def as_typed(text: str) -> str:
    """Blanks as one, letters in one form, nothing that shows nothing: what a name is looked up by."""
    return unicodedata.normalize("NFC", " ".join(without_ignorable(text).replace(BLANK, " ").split()))


def plain_name(text: str, what: str = "name", *, letters: bool = True) -> str:
    """Trimmed, in one form. `what` it is a name of goes into the sentence when it cannot be one."""
    name = as_typed(text)
    if any(letter in TURNS for letter in text) or any(unicodedata.category(letter) in NOT_SHOWN for letter in name):
        raise BadName(f"Write the {what} in plain letters: it holds a sign that cannot be shown.")
    kinds = {unicodedata.category(letter)[0] for letter in name} - {"Z"}
    if kinds <= {"C", "M"}:
        raise BadName(f"Fill in the {what}.")
    if letters and not kinds & {"L", "N"}:
        raise BadName(f"Write the {what} with a letter or a digit at least.")
    if len(name) > MOST:
        raise BadName(f"Give the {what} at most {MOST} letters.")
    return name
