"""What a calendar's feed says, in the languages of the app. Its words are those of the client's catalogues:
`python -m tests.support.calendar_words` copies them."""

from __future__ import annotations

import json
from pathlib import Path

WORDS: dict[str, dict[str, str]] = json.loads(Path(__file__).with_suffix(".json").read_text(encoding="utf-8"))
LANGUAGES = tuple(WORDS)


def say(language: str, key: str, **given: object) -> str:
    text = WORDS[language][key]
    for name, value in given.items():
        text = text.replace(f"{{{name}}}", str(value))
    return text
