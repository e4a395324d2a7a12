"""Sync and pictures, for the schema: `api/sync.py` reads and writes them with msgspec, byte for byte."""

from __future__ import annotations

from typing import Any

from herd.state.checks import PATTERNS
from herd.state.tables import FIELDS

Shape = dict[str, Any]
TEXT: Shape = {"type": "string"}
NUMBER: Shape = {"type": "integer"}
COUNT: Shape = {"type": "integer", "minimum": 0, "maximum": 2**53}
YES_NO: Shape = {"type": "boolean"}
ID: Shape = {"type": "string", "pattern": f"^{PATTERNS['id'].pattern}$"}
MARK: Shape = {"type": "string", "pattern": "^[0-9a-f]{64}$"}


def ref(name: str) -> Shape:
    return {"$ref": f"#/components/schemas/{name}"}


def several(shape: Shape) -> Shape:
    return {"type": "array", "items": shape}


def record(needed: Shape, more: Shape | None = None) -> Shape:
    required = {"required": sorted(needed)} if needed else {}
    return {"type": "object", "properties": {**needed, **(more or {})}, **required}


# What was recorded before such limits were, or by nobody's app, is in the log as well: none of them is promised.
ENTRY_PARTS = {
    **{name: {**(NUMBER if one["is"] == "whole" else TEXT), "description": one["label"]}
       for name, one in FIELDS["envelope"].items() if name != "id"},
    "data": {"type": "object", "additionalProperties": {}, "description": "What its kind carries."},
}  # fmt: skip
EFFECTIVE: Shape = {"allOf": [ref("Effective")], "nullable": True}
CHANGES = {
    "epoch": COUNT, "events": several(ref("Entry")), "outlooks": several(ref("Outlook")),
    "people": several(ref("PersonRow")), "scope": TEXT, "seq": COUNT, "outlook_rev": COUNT, "signed": TEXT,
    "more": YES_NO, "outlooks_due": YES_NO, "now": COUNT, "min_app": TEXT,
}  # fmt: skip
SHAPES: dict[str, Shape] = {
    "Cursor": record({}, {"seq": COUNT, "outlook_rev": COUNT, "signed": TEXT}),
    "Envelope": {"type": "object", "description": "An entry as a phone wrote it.", "additionalProperties": {}},
    "Recorded": {
        **record({"id": TEXT}, ENTRY_PARTS),
        "description": "An entry as it was recorded; of a hidden one its id alone.",
    },
    "Effective": {
        **record({}, {"happened": NUMBER, "on": TEXT, "hlc": TEXT, "odd": {"type": "integer", "enum": [1]}}),
        "description": "What stands in the place of the entry's own, where a phone's clock was off.",
    },
    "Outlook": {**record({"doe": TEXT, "rev": COUNT}), "description": "What was worked out for one doe, or the herd."},
    "Push": record(
        {"device": ID, "epoch": COUNT, "now": COUNT, "events": {**several(ref("Envelope")), "maxItems": 500}},
        {"cursor": ref("Cursor"), "app": TEXT, "schema": NUMBER, "pending": COUNT, "carried": YES_NO,
         "before": {"type": "object", "additionalProperties": {}}},
    ),
    "EntryAnswer": record(
        {"id": TEXT, "st": {"type": "string", "enum": ["ok", "dup", "rejected", "parked"]}, "code": TEXT, "why": TEXT,
         "field": TEXT, "seq": {**NUMBER, "nullable": True}, "eff": EFFECTIVE},
        {"receipt": TEXT},
    ),
    "Entry": record(
        {"seq": COUNT, "st": {"type": "string", "enum": ["ok", "parked", "refused", "hidden"]}, "eff": EFFECTIVE,
         "ev": ref("Recorded")},
        {"receipt": TEXT, "code": TEXT, "why": TEXT},
    ),
    "PersonRow": record(
        {"id": TEXT, "name": TEXT, "role": TEXT}, {"gone": YES_NO, "pack": TEXT, "starts_on": TEXT, "ends_on": TEXT}
    ),
    "Changes": record(CHANGES, {"again": several(ref("Entry")), "snapshot": YES_NO}),
    "PushReply": record(
        {"answers": several(ref("EntryAnswer")), "epoch": COUNT, "min_app": TEXT, "now": COUNT},
        {"changes": ref("Changes"), "removed": YES_NO},
    ),
    "Room": record({"used": NUMBER, "most": NUMBER}),
    "Kept": record({"sha256": MARK}),
    "PartKept": record({"number": COUNT}),
}  # fmt: skip


def inside(shape: Shape, kind: str = "application/json") -> Shape:
    return {"content": {kind: {"schema": shape}}}


FARM = {"in": "path", "name": "farm_id", "required": True, "schema": TEXT}
SHA = {
    "in": "path",
    "name": "sha256",
    "required": True,
    "schema": TEXT,
    "description": "SHA-256 of the content, in hex.",
}
BYTES: Shape = {"type": "string", "format": "binary"}
PICTURE: Shape = {"content": {kind: {"schema": BYTES} for kind in ("image/jpeg", "audio/wav")}}


PART: Shape = {"content": {"application/zip": {"schema": BYTES}}}
OF_FILE = tuple({"in": "path", "name": name, "required": True, "schema": shape}
                for name, shape in (("file", TEXT), ("number", {**COUNT, "maximum": 2**31 - 1})))  # fmt: skip


def operation(name: str, about: str, answer: Shape, *more: Shape, body: Shape | None = None) -> Shape:
    return at_no_farm(name, about, answer, FARM, *more, body=body)


def at_no_farm(name: str, about: str, answer: Shape, *more: Shape, body: Shape | None = None) -> Shape:
    return {
        "operationId": name, "description": about, "tags": ["farms"], "security": [{"cookieAuth": []}],
        "parameters": list(more), **({"requestBody": {**body, "required": True}} if body else {}),
        "responses": {
            "200": {**answer, "description": ""},
            "4XX": {**inside(ref("Failure")), "description": "Refused, and why."},
        },
    }  # fmt: skip


def asked(name: str, shape: Shape) -> Shape:
    return {"in": "query", "name": name, "schema": shape}


F = "/api/farms/{farm_id}/"
PULL = tuple(asked(name, {**COUNT, "maximum": 10**15 - 1}) for name in ("seq", "outlook_rev", "epoch", "limit"))
PATHS: dict[str, Shape] = {
    F + "events": {
        "post": operation(
            "push", "A batch of entries, each answered by itself; what is new since the cursor comes along. What is "
            "not answered is kept nowhere yet: send it again later.",
            inside(ref("PushReply")), body=inside(ref("Push")))
    },
    F + "changes": {
        "get": operation(
            "pull", "Entries and outlooks after a cursor.", inside(ref("Changes")), *PULL, asked("signed", TEXT))
    },
    F + "bootstrap": {"get": operation("bootstrap", "What a new phone starts from.", inside(ref("Changes")))},
    F + "media": {"get": operation("mediaRoom", "Bytes a farm uses, and may use.", inside(ref("Room")))},
    F + "media/{sha256}": {
        "get": operation("picture", "A picture or a recording.", PICTURE, SHA),
        "put": operation("keepPicture", "Keep one; again changes nothing.", inside(ref("Kept")), SHA, body=PICTURE),
    },
    "/api/farm-file/{file}/parts/{number}": {
        "put": at_no_farm(
            "sendFarmFilePart", "Keep a part of a farm's file, the first is 0; again changes nothing.",
            inside(ref("PartKept")), *OF_FILE, body=PART)
    },
}  # fmt: skip
