"""What some fifty does are told at drying off, close-up and after kidding, day by day for four weeks, in English.

    python -m tests.support.plans_aloud [NAME ...]

They stand in `stretch_does.py`. Each day her plan's page is asked as a phone asks it, what it offers is put in once,
everybody is fed what the plan gives that day, and what is said of her and of whoever eats beside her is printed: to be
read as a vet would.
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path
from typing import Any

from frontend import client_build
from herd.outlook.book import compile_book
from herd.outlook.evaluate import FarmDay
from tests.support.read_aloud import READER, SHOWN
from tests.support.some_does import MEALS, SomeDoes
from tests.support.stretch_does import STRETCHES, Stretch

DAYS = range(29)
PLANS = ("dry", "close_up", "fresh")


def main(names: list[str]) -> None:
    client_build.build_engine()
    chosen = {name: make for name, make in STRETCHES.items() if not names or any(part in name for part in names)}
    told = [{"farm": name, "days": followed(make())} for name, make in chosen.items()]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "told.json")
        path.write_text(json.dumps(told))
        client_build.run([READER, str(path)], check=True)


def followed(one: Stretch) -> list[dict[str, Any]]:
    """Each day: the page first, what is done about it, then the feed."""
    one.does.fed_as_planned(-60, -1)
    return [told_on(one, day) for day in DAYS]


def told_on(one: Stretch, day: int) -> dict[str, Any]:
    does, hap = one.does, one.hap.get(day)
    if hap:
        hap(does, day)
    page = asked(one, does.farm(day))
    takes_it(one, day, page)
    fed(does, day)
    # the last milking was this evening
    if page and page["code"] == "plan_dry" and does.on(day) == page["last_on"]:
        does.log.add("dried_off", one.who, {}, does.on(day + 1))
    view = does.view(day)
    farm = does.farm(day)
    return {
        "on": does.on(day),
        "view": {part: view[part] for part in (*SHOWN, "rations", "intakes")},
        "feeds": compile_book(view)["feeds"],
        "results": farm.ask("results"),
        "acts": {},
        "page": page,
        "outlook": does.outlooks(day)[one.who],
        "ate": {name: sums(farm, name, does.on(day)) for name in does.names},
    }


def asked(one: Stretch, farm: FarmDay) -> dict[str, Any] | None:
    for of in PLANS:
        chosen = []
        if of == "dry" and one.way:
            plain = farm.ask("dry_plan", one.who)
            chosen = [{"last_on": plain["last_on"], "way": one.way}] if plain else []
        page = farm.ask(f"{of}_plan", one.who, *chosen)
        if page:
            return {**page, "of": of}
    return None


def takes_it(one: Stretch, day: int, page: dict[str, Any] | None) -> None:
    """Once a plan: what one tap writes."""
    if not page or (one.only and page["of"] != one.only):
        return
    marked = {r["marks"][-1]["act"] for r in one.does.view(day)["rations"].values() if r["marks"]}
    if page["code"] in marked:
        page["inside"] = page.get("short") != "milk"
        return
    if not page["lines"]:
        return
    one.does.adopt({"lines": page["lines"], "code": page["code"], "brings": page["brings"] or {}}, day)
    if page["of"] == "dry":
        one.does.log.add("dry_plan", one.who, {"last_on": page["last_on"], "way": page["way"]}, one.does.on(day))
    page["taken"] = True


def fed(does: SomeDoes, day: int) -> None:
    """What a phone puts before whoever feeds: the plan of that day, held where it is held."""
    farm, on = does.farm(day), does.on(day)
    for pen, names in does.pens.items():
        for slot in MEALS:
            lines = [("", feed, g) for feed, g in farm.ask("subject_lines", pen, on, slot)]
            lines += [(name, feed, g) for name in names for feed, g in farm.ask("subject_lines", name, on, slot)]
            if lines:
                does.log.fed(pen, on, slot, *lines)


def sums(farm: FarmDay, name: str, on: str) -> dict[str, int]:
    """Permille of need of energy and calcium, and dry grain."""
    found = farm.ask("day_sums", name, on)
    if not found:
        return {}
    grain = farm.ask("eaten_on", name, on)["day_g"]
    pm = {of: round(1000 * found["got"][of] / found["need"][of]) for of in ("me", "ca") if found["need"][of]}
    return {**pm, "grain_g": grain}


if __name__ == "__main__":
    main(sys.argv[1:])
