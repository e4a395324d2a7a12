"""Values as TypeScript."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any


class Name(str):
    """Stands in the text as it is: the name of another constant."""


def ts(value: Any) -> str:
    if isinstance(value, Name):
        return str(value)
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{_key(key)}: {ts(inner)}' for key, inner in value.items())} }}" if value else "{}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(ts, value))}]"
    return json.dumps(value, ensure_ascii=False)


def _key(key: str) -> str:
    return key if key.isidentifier() else json.dumps(key)


def const(name: str, value: Any, type_: str = "") -> str:
    """A constant; with no TYPE its literals are its type."""
    return f"export const {name}{f': {type_}' if type_ else ''} = {ts(value)}{'' if type_ else ' as const'};\n"


def union(name: str, words: Iterable[str]) -> str:
    return f"export type {name} =\n" + "\n".join(f'  | "{word}"' for word in words) + ";\n"


def table(name: str, rows: dict[str, Any], type_: str) -> str:
    """A table, a line a row, that is checked against TYPE."""
    lines = "".join(f"  {_key(key)}: {ts(row)},\n" for key, row in rows.items())
    return f"export const {name}: {type_} = {{\n{lines}}};\n"
