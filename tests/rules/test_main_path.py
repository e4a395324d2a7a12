"""The main path of the guide is the path that is taken: each station is reached from one before it."""

import ast
import re
from functools import cache
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.support.paths import ROOT
from tests.support.sources import tree, without_comments

MOST_STATIONS = 8
ROW = re.compile(r"^\| \d+ \|[^|]+\| `([^`]+)` `(\w+)` \|$", re.MULTILINE)
# What an editor would list: functions, methods, getters and what is called like them.
DEFINED = re.compile(
    r"^(?P<indent> *)(?:export |async |static |readonly |get |set |function\*? |const |[#*])*(?P<name>\w+)"
    r"(?: = (?:async )?)?(?:<[^>\n]*>)?\(",
    re.MULTILINE,
)
NOT_FUNCTIONS = {"if", "for", "while", "switch", "catch", "return", "super"}
# The one step that no call can show: what is sent there is served here.
OVER_THE_NETWORK = {"push": ("frontend/src/core/phone/sync/sender.ts", '"events"', "api/urls.py", '/events", push)')}


class Station(NamedTuple):
    file: str
    function: str


def paths() -> list[list[Station]]:
    guide = (ROOT / "DEVELOPERS.md").read_text().split("## The main path")[1].split("\n## ")[0]
    tables = [[Station(*row) for row in ROW.findall(part)] for part in guide.split("\n\n")]
    return [table for table in tables if table]


@cache
def functions(file: str) -> dict[str, str]:
    """{name: text} of what FILE defines; two of one name, a method and a function, are taken together."""
    path = ROOT / file
    found: dict[str, str] = {}
    for name, text in of_python(path) if path.suffix == ".py" else of_client(path):
        found[name] = f"{found.get(name, '')}\n{text}"
    return found


def of_python(path: Path) -> list[tuple[str, str]]:
    defined = [node for node in ast.walk(tree(path)) if isinstance(node, ast.FunctionDef)]
    return [(node.name, "\n".join(ast.unparse(part) for part in node.body)) for node in defined]


def of_client(path: Path) -> list[tuple[str, str]]:
    source = without_comments(path)
    heads = [head for head in DEFINED.finditer(source) if head["name"] not in NOT_FUNCTIONS]
    return [(head["name"], text) for head in heads if (text := text_after(source[head.end() :], head["indent"]))]


def text_after(rest: str, indent: str) -> str:
    """To the end of the line where all stands in one, else to the brace that closes it."""
    line = rest.split("\n", 1)[0]
    block = re.match(rf".*?^{indent}\}}", rest, re.MULTILINE | re.DOTALL)
    return line if line.endswith(";") else block.group(0) if block else ""


def calls(text: str, name: str) -> bool:
    return bool(re.search(rf"\b{name}(?:\(|\b(?= *[,;)\]]))", text))


def reached(start: Station, files: list[str]) -> str:
    """All that is called from a station on, as far as it stands in one of the stations' files."""
    known = [functions(file) for file in files]
    texts, passed, waiting = [], set[str](), [functions(start.file)[start.function]]
    while waiting:
        texts.append(text := waiting.pop())
        for name in {name for of_file in known for name in of_file if name not in passed and calls(text, name)}:
            passed.add(name)
            waiting += [of_file[name] for of_file in known if name in of_file]
    return "\n".join(texts)


def leads_to(before: list[Station], there: Station, files: list[str]) -> bool:
    if there.function in OVER_THE_NETWORK:
        sends, sent, serves, served = OVER_THE_NETWORK[there.function]
        return sent in (ROOT / sends).read_text() and served in (ROOT / serves).read_text()
    return any(calls(reached(station, files), there.function) for station in before)


def test_there_are_three_paths_short_enough_to_tell() -> None:
    assert [len(path) for path in paths()] == [MOST_STATIONS, 6, 4]


@pytest.mark.parametrize("path", paths(), ids=["tap to prompt", "outbox to every phone", "what is due to an outlook"])
def test_every_station_exists_and_is_reached_from_one_before_it(path: list[Station]) -> None:
    files = [station.file for station in path]
    assert [station for station in path if station.function not in functions(station.file)] == []
    assert [there for at, there in enumerate(path) if at and not leads_to(path[:at], there, files)] == []


def test_a_station_nobody_leads_to_is_seen() -> None:
    tap = paths()[0]
    files = [station.file for station in tap]
    assert leads_to(tap[:1], tap[1], files)
    assert not leads_to(tap[:1], Station("frontend/src/core/phone/keeping.ts", "letGo"), files)
    assert not leads_to(tap[5:6], tap[0], files), "evaluating a farm taps no button"
