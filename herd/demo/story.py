"""The farm's whole log: records first, then what became of each doe, the plans, the meals and the looks."""

from __future__ import annotations

from typing import Any

from herd.state.order import Event

from .barn import barn
from .cast import ALFALFA, FAMILY, MEADOW, MIX, OWNER, PENS, SECOND_CUT, START, Doe
from .diary import Diary, Written
from .does import DOES
from .looks import looks
from .meals import meals
from .phone import Phone, uuid7
from .plans import PEN_KEYS, Ration, rations
from .shelf import shelf

RECORDS_AT = START + 2
BUCK = {"standard": "Rafter", "mini": "Button"}
LOTS: dict[str, tuple[str, dict[str, Any]]] = {
    MEADOW: ("Meadow hay, July", {"feed": "orchardgrass_hay", "flake_g": 1100, "tdn_pct_x10": 565, "ca_pct_x100": 27}),
    SECOND_CUT: ("Second cut, mixed", {"feed": "alfalfa_grass_hay_50", "flake_g": 1400, "tdn_pct_x10": 640}),
    ALFALFA: ("Alfalfa, big flakes", {"feed": "alfalfa_hay_mid", "flake_g": 1600}),
}
MIX_FIELDS = {
    "name": "Stand mix",
    "like": "oats_grain",
    "dm_pct_x10": 885,
    "tdn_pct_x10": 780,
    "cp_pct_x10": 165,
    "ndf_pct_x10": 240,
    "ca_pct_x100": 35,
    "p_pct_x100": 45,
}
Ids = dict[str, str]


def log_of_the_farm(diary: Diary, phones: dict[str, Phone], farm_id: str) -> list[Event]:
    """Everything recorded on the farm up to the diary's now, in the order in which it was entered."""
    rng = diary.rng
    ids = {key: uuid7(diary.at(RECORDS_AT, "19:00"), rng) for key in (*PEN_KEYS, *LOTS, MIX, *(d.key for d in DOES))}
    _records(diary, ids, farm_id)
    for doe in DOES:
        _life(diary, ids, doe)
    for ration in rations():
        _plan(diary, ids, ration)
    meals(diary, ids, rng)
    looks(diary, ids, rng)
    shelf(diary, farm_id, rng)
    barn(diary, ids, farm_id, rng)
    return diary.written(phones)


def _records(diary: Diary, ids: Ids, farm_id: str) -> None:
    _record(diary, "rules", farm_id, {"units": "metric"})
    for place, pen in enumerate(PENS):
        fields = {"name": pen.name, "order": place, "role": pen.role, "waste_pm": pen.waste_pm}
        _record(diary, "pen", ids[pen.key], fields)
    for key, (name, fields) in LOTS.items():
        _record(diary, "lot", ids[key], {"name": name, **fields, "opened_on": diary.day(START + 1)})
    _record(diary, "feed", ids[MIX], MIX_FIELDS)
    for place, doe in enumerate(DOES):
        _record(diary, "doe", ids[doe.key], _fields(diary, doe, place), min(RECORDS_AT, doe.came))


def _record(diary: Diary, kind: str, subject: str, fields: dict[str, Any], ago: int = RECORDS_AT) -> None:
    diary.note(OWNER, ago, "19:05", kind, subject, {"f": fields, "base": dict.fromkeys(fields, "")})


def _fields(diary: Diary, doe: Doe, place: int) -> dict[str, Any]:
    return {
        "name": doe.name,
        "size": doe.size,
        "breed": doe.breed,
        "born_on": diary.day(doe.born) if doe.born else "",
        "mature_kg": doe.mature_kg,
        "keeper": doe.keeper,
        "kiddings_before": doe.kiddings,
        "order": place,
    }


def _life(diary: Diary, ids: Ids, doe: Doe) -> None:
    """What happened before the farm kept a log is written down on its first evening."""

    def tell(ago: int, kind: str, data: dict[str, Any], who: str = OWNER) -> None:
        diary.note(who, ago, "07:10", kind, ids[doe.key], data, entered=min(ago, RECORDS_AT - 1))

    for ago, pen in doe.pens:
        tell(ago, "moved", {"pen": ids[pen]}, FAMILY)
    if doe.kidded:
        ago, born = doe.kidded
        tell(ago, "kidded", {"born": born, "alive": born, "timed": False}, FAMILY)
    if doe.dried is not None:
        tell(doe.dried, "dried_off", {})
    if doe.bred:
        first, last = doe.bred
        how = "hand" if first == last else "pen"
        tell(last, "bred", {"from_on": diary.day(first), "to_on": diary.day(last), "how": how, "buck": BUCK[doe.size]})
    if doe.scanned:
        tell(doe.scanned[0], "preg_check", {"result": "pregnant", "kids": doe.scanned[1], "how": "scan"})


def _plan(diary: Diary, ids: Ids, ration: Ration) -> None:
    subject, feed = ids[ration.subject], ids.get(ration.feed, ration.feed)
    key = f"ration|{subject}|{ration.slot}|{feed}"
    steps = [{"on": diary.day(ago), "g": g} for ago, g in ration.steps]
    to = "pen" if ration.subject in PEN_KEYS else "doe"

    def data(written: Written) -> dict[str, Any]:
        seen = written.get(key)
        base = seen["hlc"] if seen else ""
        return {"to": to, "slot": ration.slot, "feed": feed, "steps": steps, "base": base}

    diary.note(OWNER, ration.entered, "20:15", "ration", subject, data, slot=ration.slot, key=key)
