"""What the last backup was, in a file beside the database: `doctor` reads it, whatever became of the database."""

from __future__ import annotations

import json
import os
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

NAME = "last_backup.json"


def note(folder: Path, file: Path, spoilt: list[str], *, at: str = "", tried: str = "") -> None:
    """`tried`: when a backup was last restored into another database; kept from one backup to the next."""
    at = at or datetime.now(UTC).isoformat(timespec="seconds")
    said = {"at": at, "file": str(file.resolve()), "spoilt": spoilt[:20]}
    tried = tried or last(folder).get("tried", "")
    draft = folder / f"{NAME}.{os.getpid()}"
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(handle, "w") as out:
        json.dump({**said, "tried": tried}, out)
    draft.replace(folder / NAME)


def last(folder: Path) -> dict[str, Any]:
    try:
        said = json.loads((folder / NAME).read_text())
    except (OSError, ValueError):
        return {}
    return said if isinstance(said, dict) and isinstance(said.get("at"), str) else {}
