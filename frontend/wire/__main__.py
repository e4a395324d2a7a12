"""Writes what the server takes and answers as types, from the schema of the API. `python frontend/wire`

Needs Django and its like, which the machine that builds the package lacks; types leave nothing in what is built, so
only `npm run check` asks for them. Neither a database nor a network is touched.
"""

from __future__ import annotations

import json
import os
import sys
import tempfile
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "frontend/src/core/tables/wire.ts"
sys.path.insert(0, str(ROOT))

from frontend.wire import schema_types  # noqa: E402
from frontend.written import write_where_other  # noqa: E402


def document() -> dict[str, Any]:
    with tempfile.TemporaryDirectory() as empty:
        os.environ |= {"DJANGO_SETTINGS_MODULE": "herd.settings", "MANGERLINE_DATA": empty}
        import django

        django.setup()
        from api.schema.page import document as described

        return described()


def write(out: Path = OUT, schema: Path | None = None) -> None:
    """SCHEMA: a file of it, instead of the one the server hands out."""
    found = json.loads(schema.read_text(encoding="utf-8")) if schema else document()
    write_where_other(out, schema_types.module(found))


if __name__ == "__main__":
    write(*(Path(argument) for argument in sys.argv[1:]))
