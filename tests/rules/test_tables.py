"""The tables under herd are the only place of what they hold: each entry complete, none typed into code again."""

from __future__ import annotations

import csv
import re
import tomllib
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from herd.outlook.rules import ROWS, RULES
from herd.outlook.tables import CODES, FIRST_FEEDS, NUMBERS, OFF_FEED, PROMPTS
from herd.outlook.tables import RULES as SECTIONS
from herd.science.water_minerals.portions import MAJORS, TRACES
from herd.state.tables import CODES as STATE_CODES
from herd.state.tables import FIELDS
from tests.support.paths import ROOT
from tests.support.sources import code_files, name, without_comments

STANDINGS = {"READ", "DERIVED", "MEMORY", "EXPERT", "PRACTICE"}
SOURCES = tomllib.loads((ROOT / "herd/science/sources.toml").read_text())
JUDGED = {
    f"{part}.{key}": row
    for part, rows in (*((part, OFF_FEED[part]) for part in ("grid", "urine", "rests")), *OFF_FEED["seen"].items())
    for key, row in rows.items()
}
OWN_NUMBERS = {key: row for key, row in NUMBERS.items() if "of" not in row}


@pytest.mark.parametrize("rule", RULES)
def test_a_herd_rule_is_whole(rule: str) -> None:
    row = RULES[rule]
    assert row.low <= row.default <= row.high
    assert row.unit
    assert row.source
    assert row.standing in STANDINGS
    assert (row.standing == "PRACTICE") == (ROWS[rule]["standing"] == "PRACTICE")
    assert set(ROWS[rule]) <= {*row._fields, "of", "choices"}


def leaves(value: Any) -> list[int]:
    if isinstance(value, dict):
        return [leaf for inner in value.values() for leaf in leaves(inner)]
    return [leaf for inner in value for leaf in leaves(inner)] if isinstance(value, list) else [value]


@pytest.mark.parametrize("key", OWN_NUMBERS)
def test_a_number_is_whole(key: str) -> None:
    row = OWN_NUMBERS[key]
    assert set(row) == {"value", "unit", "low", "high", "source", "where", "standing"}
    assert all(row["low"] <= leaf <= row["high"] for leaf in leaves(row["value"]))
    assert row["unit"]
    assert row["where"]


@pytest.mark.parametrize("at", [*JUDGED, *OWN_NUMBERS])
def test_what_is_judged_by_says_where_it_is_from(at: str) -> None:
    row = JUDGED.get(at) or OWN_NUMBERS[at]
    assert row["source"] in SOURCES
    assert row["standing"] in STANDINGS
    assert (row["source"] == "judgement") <= (row["standing"] in {"EXPERT", "DERIVED"})
    assert (row["source"] == "practice") <= (row["standing"] == "PRACTICE")


def test_a_word_for_hay_or_grain_is_a_feed_of_the_library_of_its_class() -> None:
    with (ROOT / "herd/science/feeds/feeds.csv").open(newline="") as rows:
        library = {row["feed_id"]: row["class"] for row in csv.DictReader(rows)}
    named = [row for rows in FIRST_FEEDS.values() for row in rows.values()]
    assert len(named) > 10
    assert [row for row in named if library.get(row["feed"]) != row["class"]] == []
    assert {row["source"] for row in named} <= {*SOURCES}
    assert {row["standing"] for row in named} <= STANDINGS


def test_lists_hold_each_word_once_and_hang_together() -> None:
    for words in (*STATE_CODES.values(), *CODES.values()):
        assert len(set(words)) == len(words)
    assert (STATE_CODES["majors"], STATE_CODES["traces"]) == (MAJORS, TRACES)
    kept = FIELDS["sets"]["composition"]
    assert all(f"{mineral}_pct_x100" in kept for mineral in STATE_CODES["majors"])
    assert all(f"{mineral}_ppm_x100" in kept for mineral in STATE_CODES["traces"])
    assert {*CODES["forage"], *CODES["concentrate"]} <= {*STATE_CODES["feed_classes"]}
    prompts = PROMPTS["prompts"]
    assert {*OFF_FEED["prompts"]} == {*OFF_FEED["urgencies"]}
    said = [*OFF_FEED["prompts"].values(), *(row["prompt"] for row in JUDGED.values() if "prompt" in row)]
    assert {*said} <= {*prompts}
    places = sorted(row["of_pen"] for row in prompts.values() if "of_pen" in row)
    assert places == list(range(1, len(places) + 1))
    assert {*SECTIONS["offered"]} <= {*SECTIONS}


def test_a_rule_stands_in_one_section() -> None:
    sections = [rows for rows in SECTIONS.values() if isinstance(rows, dict)]
    assert [rule for rule, n in Counter(rule for rows in sections for rule in rows).items() if n > 1] == []


def code(*rooms: str) -> list[Path]:
    return [path for path in code_files(*rooms, suffixes={".py", ".ts", ".svelte"}) if "/tests/" not in name(path)]


# `rule: 80`, `["rule", 80]`, `rule("rule", 80)`, `rules["rule"] ?? 80`, `.get("rule", 80)`
DEFAULT = re.compile(rf"\b({'|'.join(RULES)})\b[\"']?\]?\s*(?:[,:=]|\?\?|or)\s*-?[1-9]")
# A pen of the demo farm has a waste of its own.
NAMESAKES = ("herd/demo/",)


def test_no_default_of_a_herd_rule_is_typed_into_code() -> None:
    files = code("herd/", "api/", "frontend/src/", "frontend/reference/", "frontend/tables/")
    assert len(files) > 500
    judged = [path for path in files if not name(path).startswith(NAMESAKES)]
    found = [f"{name(path)}: {hit.group(0)}" for path in judged for hit in DEFAULT.finditer(without_comments(path))]
    assert found == []


JUDGES = ("frontend/src/core/outlook/", "frontend/src/core/barn/")
# Scales and halves: what stands beside a unit suffix or is compared with days is found by the patterns below.
ARITHMETIC = {2, 10, 100, 1000}
# Numbers that say nothing of goats. Add one only with its reason.
PLAIN = {
    ("core/outlook/balance/checkups.ts", 3): "place in the row of a check-up",
    ("core/outlook/balance/checkups.ts", 4): "place in the row of a check-up",
    ("core/outlook/ground/context.ts", 20_000): "dates kept",
    ("core/outlook/balance/doubts.ts", 100_000): "parts of one, so that squares stay whole",
    ("core/outlook/balance/doubts.ts", 3): "weight to the power 3/4",
    ("core/outlook/balance/doubts.ts", 4000): "weight to the power 3/4, permille",
    ("core/outlook/ill/off_feed.ts", 3): "the fourth urgency",
    ("core/outlook/ill/overload.ts", 3_600_000): "an hour",
    ("core/outlook/balance/score_ahead.ts", 2000): "half, permille",
    ("core/outlook/feeding/by_day.ts", 12): "the milliseconds of a stamp",
    ("core/outlook/feeding/by_day.ts", 16): "they are written in sixteens",
    ("core/outlook/feeding/measures.ts", 3): "with fewer fills the middle one tells nothing",
    ("core/outlook/feeding/measures.ts", 4): "quarters",
    ("core/outlook/feeding/measures.ts", 8): "quarters",
    ("core/outlook/feeding/measures.ts", 12): "text of a stamp",
    ("core/outlook/feeding/measures.ts", 16): "text of a stamp",
    ("core/outlook/kidding/chance.ts", 24): "hours of a day",
    ("core/outlook/kidding/chance.ts", 60): "minutes of an hour",
    ("core/outlook/kidding/chance.ts", 1440): "minutes of a day",
    ("core/outlook/kidding/chance.ts", 10_000): "hundredths of a percent",
    ("core/outlook/kidding/chance.ts", 1_000_000): "millionths",
    ("core/outlook/kidding/chance.ts", 1_000_000_000): "billionths",
    ("core/outlook/kidding/watch.ts", 30): "half hours",
    ("core/outlook/kidding/watch.ts", 60): "minutes of an hour",
    ("core/barn/chores.ts", 24): "hours of a day",
    ("core/barn/chores.ts", 3_600_000): "an hour",
    ("core/barn/chores.ts", 60_000): "a minute",
    ("core/barn/odd_grams.ts", 16): "ounces of a pound",
    ("core/barn/own_tasks.ts", 4): "letters of a year",
    ("core/barn/own_tasks.ts", 29): "of February",
    ("core/barn/own_tasks.ts", 365): "days of a year",
    ("core/barn/task_anchors.ts", 365): "days of a year",
    ("core/barn/vet_page.ts", 12): "months of a year",
}
TEXT = re.compile(r"`(?:\\.|\$\{[^}]*\}|[^`\\])*`|\"(?:\\.|[^\"\\])*\"|'(?:\\.|[^'\\])*'")
NUMBER = re.compile(r"(?<![\w.$])\d[\d_]*(?:\.\d+)?(?:e\d+)?(?![\w.])")
# A threshold in the guise of a small or round number.
THRESHOLD = re.compile(
    r"\b[A-Z][A-Z0-9_]*_(?:D|H|PM|X10|X100|G|KG|C|PCT)\b[^=;\n]*=\s*\[?-?[1-9]"
    r"|\?\?\s*(?:[1-9]|-[2-9])"
    r"|(?<!length )(?<!born )(?:<=|>=|<|>) (?!1000\b|\d[\d_]* \*)(?:[2-9]|\d{2,})"
    r"|\b(?:shift|addDays|window)\([^()]*,\s*-?(?:[2-9]|\d{2,})\b"
    r"|length: \d"
)


def judging() -> list[Path]:
    return [path for path in code(*JUDGES) if "/barn/lab/" not in name(path)]


def bare(path: Path) -> str:
    """Its text without comments, words, and places in a row."""
    return re.sub(r"\[\d+\]", "[]", TEXT.sub('""', without_comments(path)))


def test_no_number_a_prompt_goes_by_is_typed_into_code() -> None:
    files = judging()
    assert len(files) > 40
    typed = {
        (name(path).removeprefix("frontend/src/"), float(hit.group(0).replace("_", "")))
        for path in files
        for hit in NUMBER.finditer(bare(path))
    }
    odd = {(file, value) for file, value in typed if value > 1 and value not in ARITHMETIC}
    assert sorted(odd - PLAIN.keys()) == []
    assert sorted(PLAIN.keys() - typed) == [], "no longer there: take them off the list"


def test_no_threshold_hides_behind_a_small_number() -> None:
    found = [f"{name(path)}: {hit.group(0)}" for path in judging() for hit in THRESHOLD.finditer(bare(path))]
    assert found == []
