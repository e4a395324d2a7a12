"""The examples of the schema were really asked and answered, and still would be. `MANGERLINE_WRITE_EXAMPLES=1` writes
them down anew."""

from __future__ import annotations

import json
import os
from typing import Any

import jsonschema
import pytest

from api.schema.examples import FILE, JSON
from api.schema.page import document
from tests.security.recorded import recorded
from tests.security.test_schemathesis import nullable
from tests.security.world import World

Shape = dict[str, Any]
# Whoever asks is told who is on, be it nobody; and an answer to whoever is on is nothing that could be refused.
NEVER_REFUSED = {"session", "signOut"}
STORED: dict[str, Shape] = json.loads(FILE.read_text(encoding="utf-8"))
OPERATIONS = {one["operationId"]: one for path in document()["paths"].values() for one in path.values()}


def strict(shape: Any) -> Any:
    """No part that is not named."""
    if isinstance(shape, list):
        return [strict(one) for one in shape]
    if not isinstance(shape, dict):
        return shape
    inner = {name: strict(one) for name, one in shape.items()}
    closed = isinstance(shape.get("properties"), dict) and "additionalProperties" not in shape
    return {**inner, "additionalProperties": False} if closed else inner


def faults(shape: Shape, example: Any) -> list[str]:
    whole = strict(nullable({**shape, "components": document()["components"]}))
    return [f"{one.json_path} {one.message}" for one in jsonschema.Draft4Validator(whole).iter_errors(example)]


def bodies(operation: Shape) -> dict[str, Shape]:
    """What is JSON of an operation, by the part of an example it is."""
    found = {"asks": operation.get("requestBody", {})}
    for status, answer in operation["responses"].items():
        if status[0] in "24":
            found["answer" if status[0] == "2" else "refused"] = answer
    return {part: one["content"][JSON] for part, one in found.items() if JSON in one.get("content", {})}


@pytest.mark.parametrize("name", OPERATIONS)
def test_each_example_is_as_its_schema_says(name: str) -> None:
    wanted = bodies(OPERATIONS[name])
    assert {*STORED[name]} == {*wanted} - ({"refused"} if name in NEVER_REFUSED else set())
    for part, content in wanted.items():
        if part == "refused":
            shown = [one["value"] for one in content.get("examples", {}).values()]
            assert shown == [*STORED[name].get(part, {}).values()]
        else:
            shown = [content["example"]]
            assert shown == [STORED[name][part]]
        assert [fault for one in shown for fault in faults(content["schema"], one)] == []


def test_an_example_that_is_not_is_seen() -> None:
    shape = OPERATIONS["makeFarm"]["responses"]["201"]["content"][JSON]["schema"]
    good = STORED["makeFarm"]["answer"]
    assert faults(shape, good) == []
    assert faults(shape, {**good, "nmae": "Hill"}) != []
    assert faults(shape, {name: one for name, one in good.items() if name != "zone"}) != []
    assert faults(shape, {**good, "epoch": "1"}) != []


def outline(said: Any) -> Any:
    """What is there, without what it is."""
    if isinstance(said, dict):
        return {name: outline(one) for name, one in said.items()}
    if isinstance(said, list):
        return [outline(one) for one in said]
    return type(said).__name__


@pytest.mark.slow
def test_the_server_still_answers_so(world: World) -> None:
    now = recorded(world)
    if os.environ.get("MANGERLINE_WRITE_EXAMPLES") == "1":
        FILE.write_text(json.dumps(now, indent=1, ensure_ascii=False) + "\n", encoding="utf-8")
    stored = json.loads(FILE.read_text(encoding="utf-8"))
    assert {name: outline(one) for name, one in now.items()} == {name: outline(one) for name, one in stored.items()}
