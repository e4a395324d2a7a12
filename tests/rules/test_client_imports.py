"""The client's rooms: which way their files import, and that no file leads back to itself."""

import graphlib
import os.path
import re
from pathlib import Path

from tests.support.paths import ROOT
from tests.support.sources import code_files, name, without_comments

SOURCE = "frontend/src/"
CORE = ["tables", "base", "events", "state", "outlook", "barn", "phone"]
SHARED = ["draw", "words", "shell", "model", "sentences", "parts", "reference", "forms"]
SCREENS = [
    *[
        "media",
        "measures",
        "emergency",
        "treat",
        "joining",
        "start",
        "people",
        "me",
        "farm",
        "leaving",
        "why",
        "vet",
        "off_feed",
        "kit",
        "watch",
        "kids",
        "milk",
        "feeds",
        "minerals",
        "questions",
        "jars",
        "year",
        "back",
        "due",
        "acts",
    ],
    *["ration", "pending", "chores", "doe", "record", "plans", "setup", "sitter"],
]
# The evaluator is a house of its own, its rooms in the order of a day's work.
OUTLOOK = ["ground", "feeding", "balance", "verdict", "ill", "kidding", "words", "whole", "gates", "acts", "plans"]
ROOMS = ["texts", "styles", *(f"core/{room}" for room in CORE), *(f"ui/{room}" for room in SHARED + SCREENS)]
RELATIVE = re.compile(r"""(?:\bfrom|\bimport)\s*["'](\.{1,2}/[^"']+)["']""")

Graph = dict[str, set[str]]


def graph() -> Graph:
    files = code_files(SOURCE, suffixes={".ts", ".svelte"})
    assert len(files) > 300
    return {name(path): targets(path) for path in files}


def targets(path: Path) -> set[str]:
    """What PATH imports of the client's own files, types among them."""
    found = RELATIVE.findall(without_comments(path))
    return {os.path.normpath(f"{name(path)}/../{target}") for target in found}


def room_of(file: str) -> str:
    """ "" for what stands beside the rooms and puts them together: the app, its screens, the service worker."""
    parts = file.removeprefix(SOURCE).split("/")
    return "/".join(parts[: 2 if parts[0] in {"core", "ui"} else 1]) if len(parts) > 1 else ""


def wrong_way(graph: Graph) -> list[str]:
    place = {room: at for at, room in enumerate([*ROOMS, ""])}
    return [
        f"{file} imports {target}"
        for file, found in graph.items()
        for target in sorted(found)
        if place[room_of(target)] > place[room_of(file)]
    ]


def circle(graph: Graph) -> list[str]:
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        return list(error.args[1])
    return []


def test_every_file_stands_in_a_room() -> None:
    assert sorted({room_of(file) for file in graph()} - {*ROOMS, ""}) == []


def test_a_room_imports_only_from_rooms_to_its_left() -> None:
    assert wrong_way(graph()) == []


def test_the_rooms_of_the_evaluator_too() -> None:
    house = f"{SOURCE}core/outlook/"
    inside = {
        file: {to for to in found if to.startswith(house)} for file, found in graph().items() if file.startswith(house)
    }
    place = {room: at for at, room in enumerate([*OUTLOOK, ""])}
    room = {file: file.removeprefix(house).rpartition("/")[0] for file in inside}
    assert sorted({*room.values()} - {*place}) == []
    assert [
        f"{file} imports {to}" for file in inside for to in inside[file] if place[room[to]] > place[room[file]]
    ] == []


def test_no_file_leads_back_to_itself() -> None:
    assert circle(graph()) == []


def test_what_is_imported_is_a_file_that_exists() -> None:
    """Else the two rules above would look past it."""
    named = {target.removesuffix("?url") for found in graph().values() for target in found}
    assert sorted(target for target in named if not (ROOT / target).is_file()) == []


def test_the_rules_see_a_step_to_the_right_and_a_circle() -> None:
    left, right = f"{SOURCE}core/base/a.ts", f"{SOURCE}ui/doe/B.svelte"
    assert wrong_way({left: {right}, right: set()}) == [f"{left} imports {right}"]
    assert circle({left: {right}, right: {left}})
    assert not circle({left: {right}, right: set()})
