"""The feed table with the origin of every figure."""

from __future__ import annotations

import csv
import tomllib
from pathlib import Path
from typing import Any

NOT_FIGURES = ("feed_id", "name", "class", "note")
UNKNOWN = -1


def feeds(tables: Path) -> dict[str, Any]:
    """Columns, origins [standing, source], and per feed its figures and the number of each figure's origin."""
    rows = _table(tables / "feeds.csv")
    columns = [name for name in rows[0] if name not in NOT_FIGURES]
    known = {
        (row["feed_id"], column): (row["standing"], row["source"])
        for row in _table(tables / "feeds_provenance.csv")
        for column in row["columns"].split()
    }
    origins = sorted(set(known.values()))
    place = {origin: k for k, origin in enumerate(origins)}
    sources = tomllib.loads((tables / "feed_sources.toml").read_text(encoding="utf-8"))
    return {
        "columns": columns,
        "origins": [list(origin) for origin in origins],
        "sources": {
            key: [entry.get(part, "") for part in ("title", "author", "where")] for key, entry in sources.items()
        },
        "rows": {
            row["feed_id"]: [
                row["name"],
                row["class"],
                row["note"],
                [float(row[column]) if row[column] else None for column in columns],
                [place[known[row["feed_id"], column]] if row[column] else UNKNOWN for column in columns],
            ]
            for row in rows
        },
    }


def _table(path: Path) -> list[dict[str, str]]:
    with path.open(newline="", encoding="utf-8") as lines:
        return list(csv.DictReader(lines))
