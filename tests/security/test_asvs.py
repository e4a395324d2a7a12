"""What the verification standard asks at levels 1 and 2, held to tests and files that are there."""

from __future__ import annotations

import ast
import re
import tomllib
from collections import Counter

from tests.support.paths import ROOT

TABLE = tomllib.loads((ROOT / "tests/security/asvs.toml").read_text())
# How many items of levels 1 and 2 each chapter of version 5.0.0 has: 253.
ITEMS = {
    1: 27, 2: 11, 3: 19, 4: 10, 5: 9, 6: 35, 7: 18, 8: 7, 9: 7, 10: 29, 11: 14, 12: 9, 13: 13, 14: 9, 15: 13, 16: 16,
    17: 7,
}  # fmt: skip


def listed() -> list[str]:
    rows = [row[0] for row in (*TABLE["met"], *TABLE["not_met"])]
    return [*rows, *(item for items in TABLE["not_ours"].values() for item in items)]


def chapter(item: str) -> int:
    return int(item.split(".")[0])


def test_each_item_stands_once_and_none_is_left_out() -> None:
    counted = Counter(listed())
    assert [item for item, times in counted.items() if times > 1] == []
    assert all(re.fullmatch(r"\d+\.\d+\.\d+", item) for item in counted)
    assert dict(Counter(map(chapter, counted))) == ITEMS


def test_each_place_that_is_named_is_there() -> None:
    missing = [where for _, _, where in TABLE["met"] if not found(where)]
    assert missing == []


def found(where: str) -> bool:
    name, _, test = where.partition("::")
    path = ROOT / name
    if not path.is_file():
        return False
    if not test:
        return True
    return any(
        isinstance(node, ast.FunctionDef) and node.name == test for node in ast.walk(ast.parse(path.read_text()))
    )


def test_what_is_not_met_says_why() -> None:
    assert all(len(why) > 5 and asks for _, asks, why in TABLE["not_met"])
    met, lacking = len(TABLE["met"]), len(TABLE["not_met"])
    by_test = sum("::" in where or "/test_" in where for _, _, where in TABLE["met"])
    print(f"\nASVS 5.0 L1+L2: {len(listed())} items; met {met} ({by_test} by a test); not met {lacking};"
          f" not ours {len(listed()) - met - lacking}")  # fmt: skip
