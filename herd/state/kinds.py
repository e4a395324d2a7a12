"""The one closed list of event kinds. A new kind or version is a line here, and its fields in payloads.py."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

RECORD, STATE, OBSERVATION, CHAIN = "record", "state", "observation", "chain"
SLOTS = ("", "morning", "midday", "evening", "late")
SIGNS = (
    "udder_full",
    "teats_strutted",
    "ligaments_soft",
    "ligaments_gone",
    "tail_raised",
    "vulva_slack",
    "mucus_thin",
    "mucus_amber",
    "temp_drop",
    "alone",
    "off_feed",
    "pawing",
    "talking",
    "straining",
    "water_bag",
)
WATER = (
    "tds",
    "sulfate",
    "nitrate_n",
    "nitrate",
    "nitrite",
    "fe",
    "mn",
    "ca",
    "mg",
    "na",
    "k",
    "mo",
    "cu",
    "zn",
    "se",
    "chloride",
    "hardness",
    "ph",
)
WATER_UNITS = ("mg_l", "ug_l", "")
CARDS = (
    "milk_fever",
    "toxemia",
    "hard_kidding",
    "placenta",
    "mastitis",
    "bloat",
    "listeria",
    "cold_kid",
    "abortion",
)
MINERALS = ("selenium", "copper")
ROUNDS = ("heads", "water", "hay", "released", "gates")


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


DOE, DOE_OR_PEN, SCOOP_OR_LOT = ("doe",), ("doe", "pen"), ("scoop", "lot")
KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("doe", RECORD, shapes_outlook=True),
        Kind("pen", RECORD, shapes_outlook=True),
        Kind("feed", RECORD, shapes_outlook=True),
        Kind("lot", RECORD, shapes_outlook=True),
        Kind("rules", RECORD, shapes_outlook=True),
        Kind("contact", RECORD),
        Kind("shelf", RECORD),
        # No outlook is made from a scoop: it is folded on the server so that its weighings find it.
        Kind("scoop", RECORD, shapes_outlook=True),
        Kind("jar", RECORD),
        Kind("ration", STATE, DOE_OR_PEN),
        Kind("bred", STATE, DOE, shapes_outlook=True),
        Kind("preg_check", STATE, DOE, shapes_outlook=True),
        Kind("moved", STATE, DOE),
        Kind("dried_off", STATE, DOE, shapes_outlook=True),
        Kind("kidded", STATE, DOE, shapes_outlook=True),
        Kind("left_herd", STATE, DOE, shapes_outlook=True),
        Kind("treatment", STATE, DOE),
        Kind("freeze", STATE, DOE),
        Kind("calibration", STATE, SCOOP_OR_LOT),
        Kind("new_bag", STATE),
        Kind("fed", OBSERVATION, DOE_OR_PEN),
        Kind("intake", OBSERVATION, DOE_OR_PEN),
        Kind("udder", OBSERVATION, DOE),
        Kind("score", OBSERVATION, DOE, shapes_outlook=True),
        Kind("signs", OBSERVATION, DOE),
        Kind("weight", OBSERVATION, DOE, versions=(1, 2), shapes_outlook=True),
        Kind("milk", OBSERVATION, DOE, shapes_outlook=True),
        Kind("checkup", OBSERVATION, DOE, versions=(1, 2)),
        Kind("triage", OBSERVATION, DOE),
        Kind("round", OBSERVATION),
        Kind("weather", OBSERVATION),
        Kind("water", OBSERVATION),
        Kind("note", OBSERVATION),
        Kind("void", CHAIN),
        Kind("correct", CHAIN),
    )
}
RECORDS = tuple(kind.name for kind in KINDS.values() if kind.family == RECORD)
CHAINS = tuple(kind.name for kind in KINDS.values() if kind.family == CHAIN)
SHAPES_OUTLOOK = tuple(kind.name for kind in KINDS.values() if kind.shapes_outlook)


def known(kind: Any, version: Any) -> bool:
    """True when this build can read the event; any other is kept and parked."""
    return isinstance(kind, str) and kind in KINDS and type(version) is int and version in KINDS[kind].versions
