"""The words of a calendar's feed, out of the client's catalogues: `python -m tests.support.calendar_words`."""

from __future__ import annotations

import json

from herd.outlook.tables import TASKS
from tests.support.paths import ROOT

TEXTS = ROOT / "frontend/src/texts"
FILE = ROOT / "herd/services/calendar_words.json"
LANGUAGES = ("en", "es")
OTHERS = ("kid.one", "cal.feed.due", "cal.feed.due.why", "cal.feed.mid", "cal.feed.of")


def words() -> dict[str, dict[str, str]]:
    keys = [*OTHERS, *(f"task.{code}{more}" for code in TASKS for more in ("", ".why"))]
    found = {language: json.loads((TEXTS / f"{language}.json").read_text()) for language in LANGUAGES}
    return {language: {key: texts[key] for key in keys} for language, texts in found.items()}


def as_text() -> str:
    return json.dumps(words(), ensure_ascii=False, indent=1) + "\n"


if __name__ == "__main__":
    FILE.write_text(as_text(), encoding="utf-8")
