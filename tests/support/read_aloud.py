"""What each of some seventy does is told over four weeks, in English, as her keeper reads it: words and acts.

    python -m tests.support.read_aloud [NAME ...]

The does stand in `told_does.py` and `more_told_does.py`; their farms are folded, compiled and evaluated as a phone does
it, and the sentences are those of the client. Days on which the same is said are printed as one, whatever the amounts;
what can be done about it is worked out when the word changes and once a week.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

from frontend import client_build
from herd.outlook.book import compile_book
from tests.support.more_told_does import MORE
from tests.support.some_does import SomeDoes
from tests.support.told_does import FARMS

DAYS = range(28)
WEEK_D = 7
READER = "tests/support/aloud.mjs"
SHOWN = ("does", "pens", "feeds", "lots", "scoops", "calibrations", "bags", "rules")


def main(names: list[str]) -> None:
    client_build.build_engine()
    farms = {name: make for name, make in {**FARMS, **MORE}.items() if not names or any(part in name for part in names)}
    told = [told_of(name, make()) for name, make in farms.items()]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "told.json")
        path.write_text(json.dumps(told))
        client_build.run([READER, str(path)], check=True)


def told_of(name: str, farm: SomeDoes) -> dict[str, Any]:
    farm.fed_as_planned(-60, DAYS[-1])
    said: dict[str, str] = {}
    return {"farm": name, "days": [told_on(farm, day, said) for day in DAYS]}


def told_on(farm: SomeDoes, day: int, said: dict[str, str]) -> dict[str, Any]:
    view = farm.view(day)
    results = farm.farm(day).ask("results")
    prompts = {subject: row["prompt"] for rows in results.values() for subject, row in rows.items()}
    codes = {subject: prompt["code"] if prompt else "" for subject, prompt in prompts.items()}
    asked = [who for who, code in codes.items() if code and (said.get(who) != code or day % WEEK_D == 0)]
    said.update(codes)
    return {
        "on": farm.on(day),
        "view": {part: view[part] for part in SHOWN},
        "feeds": compile_book(view)["feeds"],
        "results": results,
        "acts": {subject: farm.acts(subject, day) for subject in asked},
    }


if __name__ == "__main__":
    main(sys.argv[1:])
