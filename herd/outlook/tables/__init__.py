"""What outlooks are judged by, as data: read here, and by the client's build."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent


def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((HERE / f"{name}.toml").read_text(encoding="utf-8"))


CODES: dict[str, tuple[str, ...]] = {name: tuple(words) for name, words in _table("codes").items()}
RULES = _table("rules")
PROMPTS = _table("prompts")
OFF_FEED = _table("off_feed")
NUMBERS = _table("numbers")
LIKES = _table("likes")
FIRST_FEEDS = _table("first_feeds")
TASKS = _table("tasks")
YEARS = _table("years")
