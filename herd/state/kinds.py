"""The one closed list of event kinds, as tables/kinds.toml has it, and the codes that entries carry."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from . import tables

RECORD, STATE, OBSERVATION, CHAIN = "record", "state", "observation", "chain"
SLOTS = tables.CODES["slots"]


@dataclass(frozen=True, slots=True)
class Kind:
    """`about`: what the subject must be before the event is folded; empty when any subject will do."""

    name: str
    family: str
    about: tuple[str, ...] = ()
    versions: tuple[int, ...] = (1,)
    shapes_outlook: bool = False

    @property
    def newest(self) -> int:
        return self.versions[-1]


def _kind(name: str) -> Kind:
    row = tables.KINDS[name]
    versions = tuple(sorted(int(key) for key in row if key.isdigit()))
    return Kind(name, row["family"], tuple(row.get("about", ())), versions, row.get("shapes_outlook", False))


KINDS: dict[str, Kind] = {name: _kind(name) for name in tables.KINDS}
DOE = ("doe",)
RECORDS = tuple(kind.name for kind in KINDS.values() if kind.family == RECORD)
CHAINS = tuple(kind.name for kind in KINDS.values() if kind.family == CHAIN)
STATES_OF_DOE = tuple(kind.name for kind in KINDS.values() if kind.family == STATE and kind.about == DOE)
SEEN_OF_DOE = tuple(kind.name for kind in KINDS.values() if kind.family == OBSERVATION and kind.about == DOE)
MEALS = tuple(kind.name for kind in KINDS.values() if kind.family == OBSERVATION and len(kind.about) > 1)
SEEN_OF_BARN = tuple(kind.name for kind in KINDS.values() if kind.family == OBSERVATION and not kind.about)
MEASURES = tuple(kind.name for kind in KINDS.values() if kind.family == STATE and "doe" not in kind.about)
SEEN = tuple(kind.name for kind in KINDS.values() if kind.family == OBSERVATION)
SHAPES_OUTLOOK = tuple(kind.name for kind in KINDS.values() if kind.shapes_outlook)


def known(kind: Any, version: Any) -> bool:
    """True when this build can read the event; any other is kept and parked."""
    return isinstance(kind, str) and kind in KINDS and type(version) is int and version in KINDS[kind].versions
