"""Writes the reference the app carries: equations, numbers, sources, herd rules, feeds. `python frontend/reference`

Standard library only, and herd.science is read, never imported: where the package is built there is no numpy.
"""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Any

from equations import equations
from feeds import feeds
from lists import distances, mark, numbers, parameters, ranges, rules, sources, toml, version
from names import Names, named

ROOT = Path(__file__).resolve().parents[2]
OUT = ROOT / "frontend/public/data/reference.json"


def reference(root: Path) -> dict[str, Any]:
    """Everything, with keys in an order that does not change from run to run."""
    science, outlook = root / "herd/science", root / "herd/outlook"
    params = parameters(science)
    topics, found = equations(science, params)
    book = feeds(science / "feeds")
    names = Names(Path(__file__).parent / "names.toml", {key: row[0] for key, row in book["rows"].items()})
    listed = numbers(outlook, params)
    for key, entry in found.items():
        if symbols := names.symbols(key, entry.get("eq", "")):
            entry["symbols"] = symbols
    arguments = {argument[0] for entry in found.values() for argument in entry.get("args", [])}
    units = {*(row[1] for rows in params.values() for row in rows.values()), *(row[1] for row in listed.values())}
    units |= {argument[1] for entry in found.values() for argument in entry.get("args", [])}
    units |= {entry.get("gives", "") for entry in found.values()}
    return {
        "science": version(science),
        "topics": grouped(topics, toml(Path(__file__).parent / "topics.toml")),
        "equations": found,
        "params": params,
        "ranges": ranges(science),
        "sources": sources(science),
        "rules": rules(outlook),
        "numbers": listed,
        "names": named(names, params, sorted({*arguments, *listed, *book["columns"]})),
        "units": {unit: names.unit(unit) for unit in sorted(units) if names.unit(unit) != unit},
        "mark": mark(found, params),
        "feeds": book,
        "distances": distances(root / "frontend/reference/distances.csv"),
    }


def grouped(topics: dict[str, str], words: dict[str, dict[str, str]]) -> dict[str, list[str]]:
    """{topic: [its name in words, what it is about, group]} in reading order."""
    named = {
        topic: [name, topics[topic], group]
        for group, names in words.items()
        for topic, name in names.items()
        if topic in topics
    }
    rest = {
        topic: [topic.replace("_", " ").capitalize(), about, "More"]
        for topic, about in topics.items()
        if topic not in named
    }
    return {**named, **rest}


def write(out: Path = OUT) -> bool:
    """Write it if it is not there already; says whether anything was written."""
    text = json.dumps(reference(ROOT), ensure_ascii=False, separators=(",", ":"))
    if out.exists() and out.read_text(encoding="utf-8") == text:
        return False
    out.parent.mkdir(parents=True, exist_ok=True)
    out.write_text(text, encoding="utf-8")
    return True


if __name__ == "__main__":
    write(*(Path(argument) for argument in sys.argv[1:]))
