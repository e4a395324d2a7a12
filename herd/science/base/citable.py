"""Everything a citation may name, in one order: on the wire a citation is its place in it."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib import import_module
from pkgutil import walk_packages

import herd.science

from ..parameters import topic, topics

ROOM = "herd.science."


@cache
def citable() -> tuple[str, ...]:
    """Equations by place, then parameters as topic.name, each in alphabetical order."""
    return (*sorted(_equations()), *sorted(f"{name}.{key}" for name in topics() for key in topic(name)))


@cache
def place_of() -> dict[str, int]:
    """Where each stands in `citable`."""
    return {name: place for place, name in enumerate(citable())}


@cache
def mark() -> str:
    """A short word for the whole list with its numbers: two sides with the same mark mean the same by a place."""
    numbers = {f"{name}.{key}": known.value for name in topics() for key, known in topic(name).items()}
    text = "\n".join(f"{name}={numbers[name]}" if name in numbers else name for name in citable())
    # frontend/reference/lists.py makes the same mark without importing anything of this
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def _equations() -> set[str]:
    found: set[str] = set()
    for module in walk_packages(herd.science.__path__, ROOM):
        members = vars(import_module(module.name)).values()
        found |= {name for member in members if (name := getattr(member, "__dict__", {}).get("equation"))}
    return {name for name in found if isinstance(name, str)}
