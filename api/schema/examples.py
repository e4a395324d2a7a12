"""What was asked and answered at each door once, as `tests/security/test_examples.py` has written it down."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

FILE = Path(__file__).with_name("examples.json")
JSON = "application/json"
Shape = dict[str, Any]


def with_examples(schema: Shape) -> Shape:
    known = json.loads(FILE.read_text(encoding="utf-8"))
    for path in schema["paths"].values():
        for operation in path.values():
            put_in(operation, known.get(operation["operationId"], {}))
    return schema


def put_in(operation: Shape, known: Shape) -> None:
    if "asks" in known:
        operation["requestBody"]["content"][JSON]["example"] = known["asks"]
    for status, answer in operation["responses"].items():
        if status.startswith("2") and "answer" in known:
            answer["content"][JSON]["example"] = known["answer"]
    if refused := known.get("refused"):
        said = {code: {"value": body} for code, body in refused.items()}
        operation["responses"]["4XX"]["content"][JSON]["examples"] = said
