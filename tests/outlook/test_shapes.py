"""The documents the server compiles and a phone reads: both sides name the same keys."""

from __future__ import annotations

import re

import pytest

from herd.outlook import shapes
from tests.support.paths import ROOT

CORE = ROOT / "frontend/src/core/outlook"
# {shape here: (the client's file, its name there)}
SHAPES = {
    **{
        name: ("ground/documents.ts", name)
        for name in (
            "Basis",
            "Who",
            "Due",
            "Withheld",
            "Drivers",
            "Limits",
            "Branch",
            "Season",
            "RiskPart",
            "Cites",
            "Outlook",
        )
    },
    "Book": ("ground/herd_figures.ts", "Book"),
    "Signs": ("ground/herd_figures.ts", "Signs"),
    "SignTable": ("ground/herd_figures.ts", "SignTable"),
    "HerdCard": ("card.ts", "HerdCard"),
    "YearsDoc": ("years.ts", "YearsDoc"),
    **{name: ("card.ts", name) for name in ("CardLine", "CardAlert", "CardWater", "WaterFigure")},
}


def keys_there(file: str, name: str) -> set[str]:
    """The keys of an interface of the client, with those of the one it extends."""
    source = re.sub(r"/\*.*?\*/", "", (CORE / file).read_text(), flags=re.DOTALL)
    found = re.search(rf"export interface {name}(?: extends (\w+))? \{{\n(.*?)\n\}}", source, re.DOTALL)
    assert found, f"{file} has no {name}"
    own = set(re.findall(r"^  (\w+)\??:", found[2], re.MULTILINE))
    return own | (keys_there("ground/documents.ts", found[1]) if found[1] else set())


@pytest.mark.parametrize("name", SHAPES)
def test_both_sides_name_the_same_keys(name: str) -> None:
    there = keys_there(*SHAPES[name])
    assert len(there) > 2
    assert there == set(getattr(shapes, name).__annotations__)


def test_every_shape_the_server_compiles_is_compared() -> None:
    made = {name for name, what in vars(shapes).items() if isinstance(what, type) and hasattr(what, "__total__")}
    parts = {"WithMilk", "WithIntake", "WithCondition"}
    assert made - SHAPES.keys() - parts == {"Step"}, "a step of a plan is written out where it stands"
