"""Shared vectors: JSON cases with inputs and hand-worked expectations, read by Python and by the client's tests.

`python -m tests.support.vectors --write` sets them out for people to read; each says in "why" who she is, what was
fed or recorded, and what must be said.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent.parent / "vectors"
WIDEST = 110


def files() -> list[Path]:
    return sorted(FOLDER.glob("*/*.json"))


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


def pretty(value: Any) -> str:
    """As JSON to read: what fits stands in one line, a long list of plain values fills its lines."""
    return f"{_set_out(value, '', WIDEST)}\n"


def _set_out(value: Any, indent: str, room: int) -> str:
    line = _plain(value)
    if len(line) <= room or not isinstance(value, dict | list):
        return line
    inside = f"{indent} "
    opened, shut = "{}" if isinstance(value, dict) else "[]"
    rows = _rows(value, inside)
    together = rows if not indent else _filled(rows, WIDEST - len(inside))
    return f"{opened}\n{inside}" + f",\n{inside}".join(together) + f"\n{indent}{shut}"


def _rows(value: dict[str, Any] | list[Any], inside: str) -> list[str]:
    if isinstance(value, list):
        return [_set_out(inner, inside, WIDEST - len(inside)) for inner in value]
    names = [f"{_plain(key)}: " for key in value]
    room = WIDEST - len(inside)
    return [name + _set_out(value[key], inside, room - len(name)) for name, key in zip(names, value, strict=True)]


def _filled(rows: list[str], room: int) -> Iterator[str]:
    """As many of them in a line as it holds; what takes lines of its own stands alone."""
    line = rows[0]
    for row in rows[1:]:
        if "\n" in line + row or len(line) + len(row) + 2 > room:
            yield line
            line = row
        else:
            line += f", {row}"
    yield line


def _plain(value: Any) -> str:
    """Half of a surrogate pair, which a probe needs, has no other form than its escape."""
    text = json.dumps(value, ensure_ascii=False)
    return json.dumps(value) if any("\ud800" <= letter <= "\udfff" for letter in text) else text


def main() -> None:
    for path in files():
        wanted = pretty(json.loads(path.read_text()))
        if wanted != path.read_text():
            print(f"{path} is not set out")
            if "--write" in sys.argv:
                path.write_text(wanted)


if __name__ == "__main__":
    main()
