"""The tables of what may be recorded, as data: read here, and by the client's build."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))


CODES: dict[str, tuple[str, ...]] = {name: tuple(words) for name, words in _table("codes").items()}
KINDS = _table("kinds")
FIELDS = _table("fields")
KEPT = _table("kept")
ROLES = _table("roles")
APART = _table("apart")
