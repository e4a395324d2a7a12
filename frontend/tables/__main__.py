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
import tasks  # noqa: E402

from frontend.written import write_where_other  # noqa: E402

HEAD = "// Written by frontend/tables from {source}. Change it there.\n"
MODULES = {
    "entries": ("herd/state/tables", entries.module),
    "forms": ("herd/state/tables", entries.forms),
    "rules": ("herd/outlook/tables/rules.toml", outlooks.rules),
    "rules_offered": ("herd/outlook/tables/rules.toml", outlooks.rules_offered),
    "prompts": ("herd/outlook/tables", outlooks.prompts),
    "off_feed": ("herd/outlook/tables/off_feed.toml", outlooks.off_feed),
    "codes": ("herd/outlook/tables", outlooks.codes),
    "numbers": ("herd/outlook/tables/numbers.toml", outlooks.numbers),
    "roles": ("herd/state/tables/roles.toml", roles.ways),
    "roles_shown": ("herd/state/tables/roles.toml", roles.shown),
    "tasks": ("herd/outlook/tables/tasks.toml", tasks.module),
    "lab": ("herd/science/parameters/lab.toml", lab.module),
}


def write(out: Path = OUT) -> None:
    for name, (source, made) in MODULES.items():
        write_where_other(out / f"{name}.ts", HEAD.format(source=source) + made())


if __name__ == "__main__":
    write(*(Path(argument) for argument in sys.argv[1:]))
