"""(iii) What a phone fetches once: bytes of the built client, brotli 11 as it is served."""

from __future__ import annotations

from collections.abc import Iterator

from frontend import client_build
from tests.bench.table import Row

GOAL_KB = {"js": 150, "css": 12}
FIRST_KB = 60


def rows() -> Iterator[Row]:
    files = sorted(path for path in (client_build.OUT / "assets").iterdir() if path.suffix in {".js", ".css"})
    for kind, goal in GOAL_KB.items():
        mine = [path for path in files if path.suffix == f".{kind}"]
        packed = sum(path.with_name(f"{path.name}.br").stat().st_size for path in mine)
        plain = sum(path.stat().st_size for path in mine)
        note = f"goal {goal} kB, {'two files' if len(mine) > 1 else 'one file'}, {plain / 1000:.0f} kB plain"
        yield Row("bundle", f"{kind} brotli", packed / 1000, "kB", note)
    (first,) = (client_build.OUT / "assets").glob("index-*.js.br")
    yield Row("bundle", "first script brotli", first.stat().st_size / 1000, "kB", f"goal {FIRST_KB} kB")
    worker = (client_build.OUT / "sw.js.br").stat().st_size
    yield Row("bundle", "service worker brotli", worker / 1000, "kB", "apart, fetched once")
