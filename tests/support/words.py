"""The words on the screen, from the client's own catalogue, so that a test finds a button whatever it is called."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache

from tests.support.paths import ROOT

CATALOGUES = ROOT / "frontend/src/texts"
LANGUAGES = ("en", "es")
# What a farm calls a flake of hay, and what goes by that word's gender, in the first word of the catalogue.
CALLED = re.compile(r"\[([^\]|]*)(?:\|([^\]]*))?\]")
HOLE = re.compile(r"\{(\w+)(?:\?([^:}]*):([^}]*))?\}")


spoken = ["en"]


@cache
def catalogue(language: str) -> dict[str, str]:
    texts = dict(json.loads((CATALOGUES / f"{language}.json").read_text()))
    one, many, gender, *narrow = texts["flake.words"].split(" ")[0].split(":")
    forms = {"flake": one, "flakes": many, "flakes-": narrow[0] if narrow else many}

    def said(hole: re.Match[str]) -> str:
        his, her = hole.groups()
        if her is not None:
            return str(his if gender == "m" else her)
        form = str(forms[his.lower()])
        return form.capitalize() if his[0].isupper() else form

    return {key: CALLED.sub(said, text) for key, text in texts.items()}


def texts() -> dict[str, str]:
    return catalogue(spoken[-1])


@contextmanager
def speaking(language: str) -> Iterator[None]:
    """Within the block the screens are in LANGUAGE."""
    spoken.append(language)
    try:
        yield
    finally:
        spoken.pop()


def say(key: str, **args: object) -> str:
    """The sentence for KEY as the client builds it."""

    def filled(hole: re.Match[str]) -> str:
        name, one, many = hole.groups()
        return str(args.get(name, "")) if many is None else (one if args.get(name) == 1 else many)

    return HOLE.sub(filled, texts()[key])


def like(key: str, **args: object) -> re.Pattern[str]:
    """The same sentence as a pattern: what is not given may be anything."""
    parts, end = [], 0
    text = texts()[key]
    for hole in HOLE.finditer(text):
        parts.append(re.escape(text[end : hole.start()]))
        name = hole.group(1)
        parts.append(re.escape(say_hole(hole, args[name])) if name in args else ".*")
        end = hole.end()
    return re.compile("".join([*parts, re.escape(text[end:])]))


def say_hole(hole: re.Match[str], value: object) -> str:
    _, one, many = hole.groups()
    return str(value) if many is None else (one if value == 1 else many)


def either(*keys: str) -> re.Pattern[str]:
    """Any one of several sentences."""
    return re.compile("|".join(like(key).pattern for key in keys))
