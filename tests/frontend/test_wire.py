"""The client compiles against what the server says of itself: what is changed there and not here, check refuses."""

from __future__ import annotations

import copy
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from api.schema.page import document
from frontend import client_build
from frontend.wire import schema_types

Change = Callable[[dict[str, Any]], None]


def renamed(shape: str, field: str) -> Change:
    def change(schema: dict[str, Any]) -> None:
        found = schema["components"]["schemas"][shape]
        found["properties"][f"{field}_now"] = found["properties"].pop(field)
        found["required"] = [f"{field}_now" if one == field else one for one in found.get("required", [])]

    return change


def retyped(shape: str, field: str, kind: str) -> Change:
    def change(schema: dict[str, Any]) -> None:
        schema["components"]["schemas"][shape]["properties"][field] = {"type": kind}

    return change


def moved(path: str, to: str) -> Change:
    def change(schema: dict[str, Any]) -> None:
        schema["paths"][to] = schema["paths"].pop(path)

    return change


F = "/api/farms/{farm_id}/"
CHANGES: dict[str, Change] = {
    "the token is called otherwise": renamed("Session", "csrf"),
    "who is on": renamed("Session", "person"),
    "an answer's standing": renamed("EntryAnswer", "st"),
    "an entry's own text": renamed("Entry", "ev"),
    "whom a name belongs to": renamed("PersonRow", "id"),
    "what an outlook is of": renamed("Outlook", "doe"),
    "the answers to a push": renamed("PushReply", "answers"),
    "the cursor": renamed("Changes", "outlook_rev"),
    "the time is a text": retyped("Changes", "now", "string"),
    "a farm's zone is a number": retyped("NewFarm", "zone", "integer"),
    "a batch asks for something new": lambda schema: schema["components"]["schemas"]["Push"]["required"].append("app2"),
    "an owner is nobody any more": lambda schema: schema["components"]["schemas"]["RoleEnum"]["enum"].remove("owner"),
    "pull is elsewhere": moved(F + "changes", F + "news"),
    "the printed code is handed in elsewhere": moved("/api/recovery", "/api/forgotten"),
    "taking over is another method": lambda schema: schema["paths"]["/api/session"].update(
        patch=schema["paths"]["/api/session"].pop("put")
    ),
}


def with_change(change: Change) -> str:
    schema = copy.deepcopy(document())
    change(schema)
    schema["components"]["schemas"]["Push"]["properties"]["app2"] = {"type": "string"}
    return str(schema_types.module(schema))


@pytest.mark.slow
@pytest.mark.timeout(300)
def test_what_the_server_changes_the_client_refuses_to_compile(tmp_path: Path) -> None:
    client_build.install()
    texts = {"": with_change(lambda schema: None), **{name: with_change(one) for name, one in CHANGES.items()}}
    file = tmp_path / "texts.json"
    file.write_text(json.dumps(texts))
    done = client_build.run(["tests/support/wire_check.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr[-2000:]
    said = json.loads(done.stdout)
    assert said.pop("") == []
    assert [name for name, errors in said.items() if not errors] == []
    assert all("/src/core/phone/sync/" in errors[0] for errors in said.values())


def test_shapes_as_types() -> None:
    ref = {"$ref": "#/components/schemas/Named"}
    rows = {
        "Named": ref,
        "Named | null": {"allOf": [ref], "nullable": True},
        "Named[]": {"type": "array", "items": ref},
        "(string | null)[]": {"type": "array", "items": {"type": "string", "nullable": True}},
        '"a" | "b"': {"type": "string", "enum": ["a", "b"]},
        "unknown": {},
        "Blob": {"type": "string", "format": "binary"},
        "{\n  a?: number;\n}": {"type": "object", "properties": {"a": {"type": "integer"}}},
        "{\n  [more: string]: unknown;\n}": {"type": "object", "additionalProperties": {}},
    }
    assert {schema_types.type_of(shape): shape for shape in rows.values()} == rows


def test_it_is_written_without_a_database(tmp_path: Path) -> None:
    """And says of this server what it says of itself."""
    out = tmp_path / "wire.ts"
    elsewhere = {**os.environ, "DATABASE_URL": "postgres://nobody@127.0.0.1:1/none"}
    subprocess.run([sys.executable, str(client_build.CLIENT / "wire"), str(out)], check=True, env=elsewhere)
    assert out.read_text() == schema_types.module(document())


def test_what_is_built_does_not_hang_on_the_types() -> None:
    """Where the package is built there is no Django to write them with."""
    others = [client_build.CLIENT / "package.json"]
    assert client_build.digest_of([*others, client_build.WIRE]) == client_build.digest_of(others)
    assert client_build.WIRE.exists()
