"""Requests made from the schema, by somebody who owns a farm: no server error, and answers as the schema says.

`MANGERLINE_SCHEMA_EXAMPLES` for more of each operation, `MANGERLINE_SCHEMA_SEED` for others.
"""

from __future__ import annotations

import copy
import json
import os
import time
from collections import Counter
from typing import Any

import jsonschema
import pytest
import schemathesis
from django.core.cache import caches
from django.db import transaction
from hypothesis import HealthCheck, Phase, given, seed, settings
from schemathesis.generation import GenerationMode

from api.schema.page import document
from tests.phones import Phone
from tests.security.world import World

EXAMPLES = int(os.environ.get("MANGERLINE_SCHEMA_EXAMPLES", "8"))
SEED = int(os.environ.get("MANGERLINE_SCHEMA_SEED", "1"))
MOST_S = 25 if EXAMPLES <= 8 else 3600

# Bytes that are sent as they are.
schemathesis.serializer.alias("application/zip", "application/octet-stream")


def own(world: World, name: str, value: Any) -> Any:
    """Half of them at a farm that is there, or nothing but its being absent would be tried."""
    children = world.hill
    known = {"farm_id": children.farm.id, "invitation": children.invitation, "person": children.person,
             "person_id": children.person, "row": children.row, "sha256": children.sha256}  # fmt: skip
    return known.get(name, value) if len(str(value)) % 2 else value


@pytest.mark.slow
@pytest.mark.parametrize("mode", [GenerationMode.POSITIVE, GenerationMode.NEGATIVE], ids=["allowed", "not allowed"])
def test_no_request_breaks_the_server(world: World, mode: GenerationMode) -> None:
    phone, began = world.phones["owner"], time.monotonic()
    schema = schemathesis.openapi.from_dict(json.loads(json.dumps(document())))
    counted: Counter[int] = Counter()
    tried: Counter[str] = Counter()
    for found in schema.get_all_operations():
        operation = found.ok()
        if mode.is_negative and not has_anything(operation):
            continue

        @seed(SEED)
        @settings(
            max_examples=EXAMPLES, deadline=None, database=None, phases=[Phase.explicit, Phase.generate],
            suppress_health_check=list(HealthCheck),
        )  # fmt: skip
        @given(case=operation.as_strategy(generation_mode=mode))
        def once(case: Any) -> None:
            # Each operation once, however slow the machine.
            if not tried[case.operation.label] or time.monotonic() - began < MOST_S:
                tried[case.operation.label] += 1
                counted[knock(world, phone, case)] += 1

        once()
    cases, broken = sum(counted.values()), sum(n for status, n in counted.items() if status >= 500)
    print(f"\nschemathesis, {mode.value}: {len(tried)} operations, {cases} cases, server errors {broken}")
    print(dict(sorted(counted.items())))
    # A machine with other work to do runs out of time before that.
    assert cases > 100 or time.monotonic() - began > MOST_S
    everything = sum(len(methods) for methods in document()["paths"].values())
    assert len(tried) == everything if mode.is_positive else len(tried) > everything // 2


def has_anything(operation: Any) -> bool:
    """What can be sent wrong: a body or a question; every address is a text and right."""
    raw = operation.definition.raw
    return "requestBody" in raw or any(one["in"] == "query" for one in raw.get("parameters", []))


def knock(world: World, phone: Phone, case: Any) -> int:
    case.path_parameters = {name: own(world, name, value) for name, value in (case.path_parameters or {}).items()}
    caches["worker"].clear()
    cookies = copy.deepcopy(phone.client.cookies)
    asked = case.as_transport_kwargs(base_url="http://testserver")
    with transaction.atomic():
        answer = send(phone, asked)
        status = answer.status_code
        content = b"".join(answer.streaming_content) if answer.streaming else answer.content
        transaction.set_rollback(True)
    phone.client.cookies = cookies
    here = f"{case.method} {asked['url']} {asked.get('json', asked.get('data'))!r:.300}: {status} {content[:300]!r}"
    assert status < 500 or status == 503, here
    as_described(case, status, answer, content, here)
    return int(status)


def send(phone: Phone, asked: dict[str, Any]) -> Any:
    data = json.dumps(asked["json"]).encode() if "json" in asked else asked.get("data") or b""
    kind = (asked.get("headers") or {}).get("Content-Type", "application/json")
    query = {name: value for name, value in (asked.get("params") or {}).items() if isinstance(value, (str, int))}
    raw = data if isinstance(data, bytes) else str(data).encode()
    return phone.client.generic(
        asked["method"], asked["url"].removeprefix("http://testserver"), raw, content_type=kind,
        headers={"X-CSRFToken": phone.token}, query_params=query,
    )  # fmt: skip


def as_described(case: Any, status: int, answer: Any, content: bytes, here: str) -> None:
    described = case.operation.definition.raw["responses"]
    if status >= 400:
        assert set(json.loads(content)) >= {"code", "message", "where"}, here
        return
    assert str(status) in described, here
    if "json" in answer.headers.get("Content-Type", "") and content:
        validate(described[str(status)], json.loads(content))


def validate(response: dict[str, Any], body: Any) -> None:
    shape = response["content"]["application/json"]["schema"]
    whole = nullable({**shape, "components": document()["components"]})
    jsonschema.Draft4Validator(whole).validate(body)


def nullable(shape: Any) -> Any:
    """What OpenAPI 3.0 says of null, in the words of JSON Schema."""
    if isinstance(shape, list):
        return [nullable(one) for one in shape]
    if not isinstance(shape, dict):
        return shape
    plain = {name: nullable(one) for name, one in shape.items() if name != "nullable"}
    return {"anyOf": [plain, {"type": "null"}]} if shape.get("nullable") is True else plain
