"""What there is to be told of, and how it is said: short, in each language, and never more than a lock screen may
show."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

from ..calendar_words import say

KINDS = ("clock", "ill", "watch", "kids", "task")
TRY = "try"
DAY_MIN = 24 * 60
LANGUAGES = ("en", "es")
WORDS = Path(__file__).with_name("words.toml")


@cache
def words() -> dict[str, dict[str, str]]:
    table: dict[str, Any] = tomllib.loads(WORDS.read_text(encoding="utf-8"))
    return table


def said(code: str, name: str, language: str) -> tuple[str, str]:
    """Title and sentence; of somebody without a name, and of a code without words, what holds of any."""
    table = words()
    spoken = language if language in LANGUAGES else LANGUAGES[0]
    if code.startswith("task."):
        title = say(spoken, code)
        return (name, title) if name else (title, table["task"][spoken])
    row = table.get(code, table["other"])
    title = row.get(f"title_{spoken}", "{name}").format(name=name or table["nobody"][spoken])
    return title, row[spoken].format(name=name or table["nobody"][spoken])
