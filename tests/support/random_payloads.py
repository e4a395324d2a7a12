"""Random payloads of every kind and version: possible ones by the table of fields, and what goes wrong with them."""

from __future__ import annotations

import copy
import random
from typing import Any

from herd.state.checks import EMPTY, words_of
from herd.state.kinds import KINDS, RECORDS
from herd.state.tables import FIELDS
from herd.state.tables import KINDS as TABLE

FITTING = {
    "id": "0190f3a2-9999-7000-8000-000000000001",
    "stamp": "019b00000000-0001-0190f3a2",
    "code": "grass_hay",
    "number": "< 0,25",
    "rule": "level_pm",
    "sha256": "0123456789abcdef" * 4,
}
ODD: tuple[Any, ...] = (
    *(None, True, False, 1.5, -1, 0, 7, 10**6, 2**53, "", " ", "x", "é" * 41, "\U0001f410" * 40, "a\0b", "\ud83d"),
    *([], {}, [None], [1], ["alone", "alone"], [{}], {"constructor": 1}, "2026-02-30", "2028-02-29", "12,5", "<5 "),
)


def payload(dice: random.Random) -> dict[str, Any]:
    """{kind, v, data}: as it should be, or with up to three things wrong with it."""
    kind = dice.choice(list(KINDS))
    version = dice.choice(KINDS[kind].versions)
    data: Any = possible(kind, version, dice)
    for _ in range(dice.choice((0, 1, 1, 1, 2, 3))):
        data = spoilt(data, dice)
    return {"kind": kind, "v": version, "data": data}


def possible(kind: str, version: int, dice: random.Random) -> dict[str, Any]:
    fields = fields_of(TABLE[kind][str(version)])
    if kind not in RECORDS:
        return {
            name: value(field, dice) for name, field in fields.items() if not field.get("may") or dice.random() < 0.5
        }
    if kind == "rules":
        return {"f": {"level_pm": dice.choice((80, -1, 10**9, "lb"))}, "base": {}}
    written = dice.sample(list(fields), dice.randint(1, len(fields)))
    stamp = dice.choice(("", FITTING["stamp"]))
    return {"f": {name: value(fields[name], dice) for name in written}, "base": dict.fromkeys(written[:2], stamp)}


def fields_of(version: dict[str, Any]) -> dict[str, Any]:
    own = {name: field for name, field in version.items() if name != "with"}
    for name in version.get("with", ()):
        own |= FIELDS["sets"][name]
    return own


def value(field: dict[str, Any], dice: random.Random) -> Any:
    """Something the field may hold, often at its edge."""
    if "or" in field and dice.random() < 0.3:
        return EMPTY[field["or"]]
    match field["is"]:
        case "whole":
            return edge(field, dice)
        case "text":
            return "y" * dice.choice((max(1, field["low"]), field["high"]))
        case "choice":
            return dice.choice(words_of(field))
        case "codes":
            return dice.sample(words_of(field), dice.randint(0, 2))
        case "flag":
            return dice.random() < 0.5
        case "day":
            return f"2026-{dice.randint(1, 12):02}-{dice.randint(1, 28):02}"
        case "content":
            return {"g": 1}
        case "feeds":
            return ["hay", "barley"][: dice.randint(0, 2)]
        case "ids":
            return [FITTING["id"]][: dice.randint(0, 1)]
        case "numbers":
            return [edge(field, dice) for _ in range(dice.randint(1, field["most"]))]
        case "rows":
            rows = range(dice.choice((1, 2, 3)))
            return [{name: value(one, dice) for name, one in field["row"].items()} for _ in rows]
        case pattern:
            return FITTING[pattern]


def edge(field: dict[str, Any], dice: random.Random) -> int:
    step = field.get("step", 1)
    return int(dice.choice((field["low"], field["high"], dice.randrange(field["low"], field["high"] + 1, step))))


def spoilt(data: Any, dice: random.Random) -> Any:
    """One part of it left out, added, made odd, or a little more or less."""
    made = copy.deepcopy(data)
    inner, key = part_of(made, dice)
    if key is None:
        return dice.choice(ODD)
    what = dice.randrange(4)
    if what == 0:
        del inner[key]
    elif what == 1 and isinstance(inner, dict):
        inner[dice.choice(("mood", "constructor", "toString"))] = 1
    elif what == 2 and type(inner[key]) is int:
        inner[key] += dice.choice((-1, 1, 1000))
    else:
        inner[key] = copy.deepcopy(dice.choice(ODD))
    return made


def part_of(whole: Any, dice: random.Random) -> tuple[Any, Any]:
    """Some place in it, however deep; the key is None where it is empty."""
    keys = list(range(len(whole))) if isinstance(whole, list) else list(whole) if isinstance(whole, dict) else []
    if not keys:
        return whole, None
    key = dice.choice(keys)
    if isinstance(whole[key], (list, dict)) and whole[key] and dice.random() < 0.7:
        return part_of(whole[key], dice)
    return whole, key
