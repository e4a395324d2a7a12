"""What each event may carry. Impossible values are refused with the field's name; odd ones are accepted."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from .checks import (
    STAMP,
    Check,
    choice,
    codes,
    day,
    feed_ref,
    flag,
    match,
    numbers,
    or_blank,
    or_unknown,
    or_zero,
    ref,
    text,
    whole,
)
from .kinds import KINDS, MINERALS, RECORDS, ROUNDS, SIGNS, SLOTS, WATER, WATER_UNITS
from .record_fields import RECORD_FIELDS, rule_problem

MOST_G = 60_000
MOST_SHARED_G = 600_000
MOST_LINES = 400
MOST_STEPS = 60
MOST_FILLS = 10
# As printed, so that a second reading stays possible; "<0.01" is a value nobody could measure.
PRINTED = re.compile(r"<? ?[0-9]{1,6}([.,][0-9]{1,4})?")
STAMP_OR_BLANK = or_blank(match("The stamp seen", STAMP, "a clock stamp"))


@dataclass(frozen=True, slots=True)
class Problem:
    """Why one event is refused: a code for the app, the field, and a sentence for the person."""

    code: str
    field: str
    why: str


Fields = dict[str, Check]
STEP: Fields = {"on": day("The step's date"), "g": whole("Grams", 0, MOST_SHARED_G)}
LINE: Fields = {
    "to": or_blank(ref("The doe fed")),
    "feed": feed_ref("The feed"),
    "g": whole("Grams", 0, MOST_SHARED_G),
}
TESTED: Fields = {
    "what": choice("What was tested", WATER),
    "printed": match("The value as printed", PRINTED, "a plain number, or < and a number"),
    "unit": choice("The unit", WATER_UNITS),
}
READINGS: Fields = {
    "temp_c_x10": or_zero(whole("Temperature (tenths of a degree C)", 340, 430)),
    "bhb_x10": or_zero(whole("Blood ketones (tenths of mmol/L)", 1, 100)),
    "urine": choice("Urine ketones", ("", "none", "trace", "small", "moderate", "large")),
}
SEEN_ON_HER: Fields = {
    "cud": choice("Cud", ("", "chewing", "none")),
    "dung": choice("Dung", ("", "normal", "dry", "loose", "none")),
    "legs": choice("Legs", ("", "fine", "swollen", "lame")),
    "eyes": whole("Eyelid colour, 1 red to 5 white", 0, 5),
    "udder": choice("Udder", ("", "fine", "hot", "cold", "clots")),
    "belly": choice("Belly", ("", "fine", "tight")),
}
ASKED = ("", "yes", "no")
OF_WATER: Fields = {
    "place": text("Where the water was taken", 0, 40),
    "drunk_l": or_unknown(whole("Litres the herd drinks a day", 1, 2_000)),
}
FORMS: dict[tuple[str, int], Fields] = {
    ("bred", 1): {
        "from_on": day("The first day with the buck"),
        "to_on": day("The last day with the buck"),
        "how": choice("How she was bred", ("hand", "pen")),
        "buck": text("The buck's name", 0, 40),
    },
    ("preg_check", 1): {
        "result": choice("The result", ("pregnant", "open", "unsure")),
        "kids": whole("Kids seen", 0, 5),
        "how": choice("How it was checked", ("scan", "blood", "other")),
    },
    ("moved", 1): {"pen": or_blank(ref("The pen"))},
    ("dried_off", 1): {},
    ("kidded", 1): {"born": whole("Kids born", 0, 6), "alive": whole("Kids alive", 0, 6)},
    ("left_herd", 1): {"why": choice("Why she left", ("sold", "died", "culled", "other"))},
    ("intake", 1): {
        "how": choice("How she ate", ("ate_all", "left_some", "refused", "slow", "not_up")),
        "left_pct": whole("The share left", 0, 100),
        "feed": or_blank(feed_ref("The feed")),
        "fed": or_blank(ref("The feeding")),
    },
    ("udder", 1): {"fill": whole("Udder fill", 0, 4), "uneven": flag("Uneven")},
    ("score", 1): {"x100": whole("The score", 100, 500, step=25)},
    ("signs", 1): {"seen": codes("Signs seen", SIGNS), "absent": codes("Signs absent", SIGNS)},
    ("weight", 1): {"kg_x10": whole("Tenths of a kilogram", 5, 2_500)},
    ("weight", 2): {
        "g": whole("Grams", 500, 250_000),
        "how": choice("How she was weighed", ("scale", "tape")),
        "girth_mm": whole("Heart girth", 0, 2_000),
        "length_mm": whole("Body length", 0, 2_000),
    },
    ("milk", 1): {"g": whole("Grams of milk", 0, 20_000), "fat_x100": whole("Milk fat", 0, 1_500)},
    ("checkup", 1): READINGS,
    ("checkup", 2): {**READINGS, **SEEN_ON_HER},
    ("triage", 1): {
        "of": or_blank(ref("The entry it is about")),
        "new_feed": choice("New bag or hay lot", ASKED),
        "water_bad": choice("Water frozen or fouled", ASKED),
        "bullied": choice("Pushed off by another doe", ASKED),
        "suspect": choice("What it looks like", ("", "bloat", "overload")),
        "result": choice("How she is now", ("", "eating", "same", "worse", "down", "vet_called")),
    },
    ("round", 1): {
        "what": choice("What was looked at", ROUNDS),
        "count": whole("Counted", 0, 500),
        "of": whole("Out of", 0, 500),
    },
    ("treatment", 1): {
        "product": text("What she was given", 1, 120),
        "told": text("What the label or the vet said", 0, 500),
        "why": text("Why", 0, 200),
        "who": choice("Who said so", ("vet", "label", "other")),
        "milk_until": or_blank(day("The last day her milk is held")),
        "meat_until": or_blank(day("The last day her meat is held")),
        "carries": codes("What it carries", MINERALS, "mineral"),
    },
    ("freeze", 1): {
        "until_on": or_blank(day("The last day her grain stays as it is")),
        "grain_out": flag("Grain out"),
        "of": or_blank(ref("The entry it is about")),
    },
    ("calibration", 1): {
        "of": choice("What was weighed", ("scoop", "flake", "bale")),
        "fills_g": numbers("Grams of each fill", MOST_FILLS, 1, MOST_SHARED_G),
        "lot": or_blank(feed_ref("The lot weighed")),
    },
    ("new_bag", 1): {"feed": feed_ref("The feed")},
    ("weather", 1): {"low_c": whole("The lowest temperature", -50, 45), "wet": flag("Wet and windy")},
    ("note", 1): {"text": text("The note", 1, 2_000)},
    ("void", 1): {"of": ref("The entry taken back")},
}
RATION: Fields = {
    "to": choice("The ration is for", ("doe", "pen")),
    "slot": choice("The time of day", SLOTS),
    "feed": feed_ref("The feed"),
    "base": STAMP_OR_BLANK,
}
CORRECT: Fields = {"of": ref("The entry corrected")}
CORRECT_MAY: Fields = {
    "on": day("The date"),
    "slot": choice("The time of day", SLOTS),
    "happened": whole("The time it happened", 0, 253_402_300_799_000),
}


def problem_in(kind: str, version: int, data: Any) -> Problem | None:
    """None when the payload of a known kind and version is possible."""
    if not isinstance(data, dict):
        return Problem("bad_field", "data", "The entry has no content: record it again.")
    if kind in RECORDS:
        return _record(kind, data)
    if kind == "ration":
        return _ration(data)
    if kind == "fed":
        return _fed(data)
    if kind == "correct":
        return _correct(data)
    if kind == "water":
        return _water(data)
    return _fields(FORMS[kind, version], data) or _together(kind, data)


def correction_problem(kind: str, content: Any) -> Problem | None:
    """The new content of a correction, judged once the kind of its target is known."""
    found = [problem_in(kind, version, content) for version in reversed(KINDS[kind].versions)]
    return None if None in found else found[0]


def _fields(fields: Fields, data: dict[str, Any], where: str = "", may: Fields | None = None) -> Problem | None:
    for name, check in fields.items():
        if name not in data:
            return Problem("bad_field", where + name, f"The field {where}{name} is missing: fill it in.")
        if why := check(data[name]):
            return Problem("bad_field", where + name, why)
    for name in (name for name in data if name not in fields):
        if may is None or name not in may:
            return Problem(
                "bad_field", where + name, f"The field {where}{name} does not belong in this entry: update the app."
            )
        if why := may[name](data[name]):
            return Problem("bad_field", where + name, why)
    return None


def _record(kind: str, data: dict[str, Any]) -> Problem | None:
    written, base = data.get("f"), data.get("base")
    if not isinstance(written, dict) or not written:
        return Problem("bad_field", "f", "Nothing was filled in: change at least one field.")
    if not isinstance(base, dict) or data.keys() - {"f", "base"}:
        return Problem("bad_field", "base", "The entry does not say which values were seen: update the app.")
    for name, value in written.items():
        why = rule_problem(name, value) if kind == "rules" else _record_field(kind, name, value)
        if why:
            return Problem("bad_field", f"f.{name}", why)
    for name, stamp in base.items():
        if why := STAMP_OR_BLANK(stamp):
            return Problem("bad_field", f"base.{name}", why)
    return None


def _record_field(kind: str, name: str, value: Any) -> str | None:
    check = RECORD_FIELDS[kind].get(name)
    return check(value) if check else f"The field {name} does not belong to a {kind}: update the app."


def _rows(data: dict[str, Any], name: str, fields: Fields, most: int) -> Problem | None:
    rows = data.get(name)
    if not isinstance(rows, list) or not rows or len(rows) > most:
        return Problem("bad_field", name, f"Give between 1 and {most} {name}.")
    for place, row in enumerate(rows):
        if not isinstance(row, dict):
            return Problem("bad_field", f"{name}.{place}", f"Row {place + 1} of {name} is empty: fill it in.")
        if found := _fields(fields, row, f"{name}.{place}."):
            return found
    return None


def _ration(data: dict[str, Any]) -> Problem | None:
    rest = {name: value for name, value in data.items() if name != "steps"}
    if found := _fields(RATION, rest) or _rows(data, "steps", STEP, MOST_STEPS):
        return found
    dates = [step["on"] for step in data["steps"]]
    if any(later <= earlier for earlier, later in zip(dates, dates[1:], strict=False)):
        return Problem("bad_field", "steps", "Each step needs a later date than the one before it.")
    return _too_much(data["steps"], "steps") if data["to"] == "doe" else None


def _fed(data: dict[str, Any]) -> Problem | None:
    rest = {name: value for name, value in data.items() if name != "lines"}
    found = _fields({"adds": flag("Added on top")}, rest) or _rows(data, "lines", LINE, MOST_LINES)
    return found or _too_much(data["lines"], "lines")


def _water(data: dict[str, Any]) -> Problem | None:
    rest = {name: value for name, value in data.items() if name != "values"}
    if found := _fields(OF_WATER, rest) or _rows(data, "values", TESTED, len(WATER)):
        return found
    named = [row["what"] for row in data["values"]]
    twice = next((place for place, what in enumerate(named) if what in named[:place]), None)
    return None if twice is None else Problem("bad_field", f"values.{twice}.what", "Each value stands once.")


def _too_much(rows: list[dict[str, Any]], name: str) -> Problem | None:
    for place, row in enumerate(rows):
        if row.get("to") != "" and row["g"] > MOST_G:
            return Problem("bad_field", f"{name}.{place}.g", f"Grams must be between 0 and {MOST_G}.")
    return None


def _correct(data: dict[str, Any]) -> Problem | None:
    rest = {name: value for name, value in data.items() if name != "data"}
    if found := _fields(CORRECT, rest, may=CORRECT_MAY):
        return found
    if not isinstance(data.get("data"), dict):
        return Problem("bad_field", "data", "The correction has no content: record it again.")
    return None


def _together(kind: str, data: dict[str, Any]) -> Problem | None:
    if kind == "bred" and data["to_on"] < data["from_on"]:
        return Problem("bad_field", "to_on", "The last day with the buck cannot be before the first.")
    if kind == "kidded" and data["alive"] > data["born"]:
        return Problem("bad_field", "alive", "No more kids can be alive than were born.")
    if kind == "signs" and set(data["seen"]) & set(data["absent"]):
        return Problem("bad_field", "absent", "A sign cannot be seen and absent at the same time.")
    return None
