"""Old payloads are read in today's form; what was recorded is never rewritten."""

from __future__ import annotations

from typing import Any

from .kinds import KINDS, known
from .readable import is_exact

Data = dict[str, Any]
GRAMS_PER_TENTH_KG = 100
# What the second version may say besides, it need not: ration 2 what brought the amount, wish 2 where she is moved to
# for it, preg_check 2 how far along the scan has her, udder 2 how it feels, kid_look 2 how much it drank
# and 3 whose record that kid is.
MAY_SAY_MORE = ("ration", "wish", "preg_check", "udder", "kid_look")
NOT_LOOKED_AT = {"cud": "", "dung": "", "legs": "", "eyes": 0, "udder": "", "belly": ""}
NOT_ASKED = {"left": "", "passes": "", "strains": ""}


def upcast(event: dict[str, Any]) -> dict[str, Any]:
    """The event in the newest version of its kind; unknown kinds and versions, newest ones, and what does not have the
    old form either, come back as they are."""
    kind, version, data = event.get("kind"), event.get("v"), event.get("data")
    if not known(kind, version) or not isinstance(data, dict):
        return event
    if kind == "correct":
        return _correction(event)
    if kind == "weight" and version == 1 and _is_weight_1(data):
        return {**event, "v": KINDS["weight"].newest, "data": weight_2(data)}
    if kind == "checkup" and version == 1:
        return {**event, "v": KINDS["checkup"].newest, "data": checkup_2(data)}
    if kind == "triage" and version == 1:
        return {**event, "v": KINDS["triage"].newest, "data": triage_2(data)}
    if kind == "kidded" and version == 1:
        return {**event, "v": KINDS["kidded"].newest, "data": kidded_2(data)}
    return {**event, "v": KINDS[kind].newest} if kind in MAY_SAY_MORE else event


def _is_weight_1(data: Data) -> bool:
    return is_exact(data.get("kg_x10"))


def weight_2(old: Data) -> Data:
    """Weight 1 held tenths of a kilogram and nothing about how; scales were the only way then."""
    return {"g": old["kg_x10"] * GRAMS_PER_TENTH_KG, "how": "scale", "girth_mm": 0, "length_mm": 0}


def checkup_2(old: Data) -> Data:
    """Checkup 1 held readings only: nothing was said about what she looked like."""
    return {**NOT_LOOKED_AT, **old}


def triage_2(old: Data) -> Data:
    """Triage 1 did not ask what she left, nor how a buck passes water."""
    return {**NOT_ASKED, **old}


def kidded_2(old: Data) -> Data:
    """Kidded 1 was written down at some hour of its day: nobody said when the last kid came."""
    return {"timed": False, **old}


def _correction(event: dict[str, Any]) -> dict[str, Any]:
    """A correction does not say which version its content is in; the old form is known by its own fields."""
    content = event["data"].get("data")
    if not isinstance(content, dict):
        return event
    if _is_weight_1(content):
        return {**event, "data": {**event["data"], "data": weight_2(content)}}
    if is_exact(content.get("temp_c_x10")) and "cud" not in content:
        return {**event, "data": {**event["data"], "data": checkup_2(content)}}
    if "bullied" in content and "left" not in content:
        return {**event, "data": {**event["data"], "data": triage_2(content)}}
    if is_exact(content.get("alive")) and "timed" not in content:
        return {**event, "data": {**event["data"], "data": kidded_2(content)}}
    return event
