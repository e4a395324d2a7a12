"""What is made from something else is written where it differs from what is there; two that write at once write the
same."""

from __future__ import annotations

from pathlib import Path


def write_where_other(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    if not path.exists() or path.read_text(encoding="utf-8") != text:
        part = path.with_suffix(".part")
        part.write_text(text, encoding="utf-8")
        part.replace(path)
