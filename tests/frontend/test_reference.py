"""The reference inside the app is whole, small, and as the science stands."""

from __future__ import annotations

import ast
import gzip
import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from herd.outlook.rules import RULES
from herd.science import VERSION
from herd.science.base.citable import citable, mark
from herd.science.base.validity import ranges
from herd.science.feeds.library import feeds, provenance
from herd.science.parameters import sources, topic, topics
from tests.published import distances
from tests.support.paths import ROOT
from tests.support.sources import code_files, name, tree

MOST_GZIPPED = 120_000
WITHOUT_PACKAGES = ("-S", "-E")


@pytest.fixture(scope="module")
def text(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Made as the packaging build makes it: without any package installed."""
    out = tmp_path_factory.mktemp("reference") / "reference.json"
    subprocess.run([sys.executable, *WITHOUT_PACKAGES, str(ROOT / "frontend/reference"), str(out)], check=True)
    return out.read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def reference(text: str) -> dict[str, Any]:
    return dict(json.loads(text))


def test_it_is_small_and_made_alike_every_time(text: str, tmp_path: Path) -> None:
    packed = len(gzip.compress(text.encode(), 9))
    print(f"{len(text)} bytes, {packed} gzipped")
    assert packed < MOST_GZIPPED
    again = tmp_path / "again.json"
    subprocess.run([sys.executable, str(ROOT / "frontend/reference"), str(again)], check=True)
    assert again.read_text(encoding="utf-8") == text


def test_it_lists_what_can_be_cited_and_nothing_else_in_the_order_of_a_citation(reference: dict[str, Any]) -> None:
    numbers = [f"{one}.{key}" for one, known in reference["params"].items() for key in known]
    assert (*sorted(reference["equations"]), *sorted(numbers)) == citable()
    assert reference["mark"] == mark()
    assert [key for key, entry in reference["equations"].items() if not entry.get("say") or "params" not in entry] == []


def test_every_public_function_with_a_source_is_an_equation_that_is_recorded() -> None:
    told = {
        f"{'.'.join(Path(name(path)).with_suffix('').parts[2:])}.{node.name}"
        for path in code_files("herd/science/", suffixes={".py"})
        for node in tree(path).body
        if isinstance(node, ast.FunctionDef)
        and not node.name.startswith("_")
        and re.search(r"Equation:|References\n", ast.get_docstring(node) or "")
    }
    assert len(told) > 60
    assert sorted(told - set(citable())) == []


def test_every_parameter_range_and_rule_is_listed_with_its_numbers(reference: dict[str, Any]) -> None:
    for one in topics():
        assert reference["params"][one].keys() == topic(one).keys()
        for key, entry in topic(one).items():
            row = [entry.value, entry.unit, entry.low, entry.high, entry.source, entry.where, entry.standing]
            assert reference["params"][one][key] == row
    assert reference["ranges"].keys() == ranges().keys()
    assert reference["rules"] == {key: list(rule) for key, rule in RULES.items()}


def test_every_source_that_is_named_exists(reference: dict[str, Any]) -> None:
    known = reference["sources"].keys()
    assert known == sources().keys()
    numbers = [row for entries in reference["params"].values() for row in entries.values()]
    assert {row[4] for row in numbers} | {row[3] for row in reference["ranges"].values()} <= known
    named = {
        key: re.match(r"\w+", part.strip())
        for key, entry in reference["equations"].items()
        for part in entry.get("refs", "judgement").split(";")
    }
    assert [key for key, found in named.items() if not found or found.group(0) not in known] == []


def test_what_an_equation_uses_is_listed_too(reference: dict[str, Any]) -> None:
    for entry in reference["equations"].values():
        assert set(entry["uses"]) <= reference["equations"].keys()
        for key in entry["params"]:
            one, parameter = key.split(".")
            assert parameter in reference["params"][one]
    energy = reference["equations"]["needs.pregnancy.pregnancy_energy_afrc1993"]
    assert "pregnancy.energy_efficiency" in energy["params"]
    assert energy["uses"] == ["needs.pregnancy.conceptus_energy_gain_afrc1993"]
    gain = reference["equations"]["needs.pregnancy.conceptus_energy_gain_afrc1993"]["params"]
    assert "pregnancy.energy_depth" in gain
    assert "pregnancy.protein_depth" not in gain


def test_every_argument_says_its_unit_and_range(reference: dict[str, Any]) -> None:
    luo = reference["equations"]["needs.maintenance.maintenance_luo2004"]
    assert luo["args"] == [["body_weight_kg", "kg", "5 to 140", "maternal, conceptus excluded"]]
    assert luo["eq"] == "ME = 501.3 kJ x BW^0.75"
    assert luo["gives"] == "kJ/d"


def test_every_figure_of_a_feed_says_where_it_is_from(reference: dict[str, Any]) -> None:
    table = reference["feeds"]
    assert table["rows"].keys() == feeds().keys()
    for feed_id, (_, _, _, figures, origins) in table["rows"].items():
        for column, figure, origin in zip(table["columns"], figures, origins, strict=True):
            known = provenance(feed_id, column)
            assert (figure is None) == (known is None)
            if known:
                assert table["origins"][origin] == [known.standing, known.source]
                assert known.source in table["sources"]


def test_the_distance_table_is_current(reference: dict[str, Any]) -> None:
    assert distances.FILE.read_text(encoding="utf-8") == distances.text(), "run python -m tests.published.distances"
    assert {row[2] for row in reference["distances"]} == {"German 2003", "French", "American 1981", "British style"}


def test_its_version_is_that_of_the_science(reference: dict[str, Any]) -> None:
    assert reference["science"] == VERSION
