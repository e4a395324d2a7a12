"""Writes the tables the client reads: kinds, fields, codes, herd rules, prompts, numbers. `python frontend/tables`

Standard library only: where the package is built there is nothing else. What is written is not kept in git.
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "frontend/src/core/tables"
sys.path[:0] = [str(ROOT), str(Path(__file__).parent)]

import entries  # noqa: E402
import lab  # noqa: E402
import outlooks  # noqa: E402
import roles  # noqa: E402

HEAD = "// Written by frontend/tables from {source}. Change it there.\n"
MODULES = {
    "entries": ("herd/state/tables", entries.module),
    "rules": ("herd/outlook/tables/rules.toml", outlooks.rules),
    "prompts": ("herd/outlook/tables", outlooks.prompts),
    "codes": ("herd/outlook/tables", outlooks.codes),
    "numbers": ("herd/outlook/tables/numbers.toml", outlooks.numbers),
    "roles": ("herd/state/tables/roles.toml", roles.ways),
    "roles_shown": ("herd/state/tables/roles.toml", roles.shown),
    "lab": ("herd/science/parameters/lab.toml", lab.module),
}


def write(out: Path = OUT) -> None:
    """Write what differs from what is there: two that write at once write the same."""
    out.mkdir(parents=True, exist_ok=True)
    for name, (source, made) in MODULES.items():
        text, path = HEAD.format(source=source) + made(), out / f"{name}.ts"
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            part = path.with_suffix(".part")
            part.write_text(text, encoding="utf-8")
            part.replace(path)


if __name__ == "__main__":
    write(*(Path(argument) for argument in sys.argv[1:]))
