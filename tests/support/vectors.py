"""Shared vectors: JSON cases with inputs and hand-worked expectations, read by Python and by the client's tests."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent.parent / "vectors"


def cases(kind: str) -> list[dict[str, Any]]:
    """Every case of a kind; none at all is an error."""
    found = [json.loads(path.read_text()) for path in sorted((FOLDER / kind).glob("*.json"))]
    if not found:
        raise FileNotFoundError(f"no vectors in {FOLDER / kind}")
    return found


def at(value: Any, path: str) -> Any:
    """The value at a dotted path; numbers index lists."""
    for key in path.split("."):
        value = value[int(key)] if isinstance(value, list) else value[key]
    return value
