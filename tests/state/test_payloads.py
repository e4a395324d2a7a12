"""Impossible values are refused with the field and a sentence; odd ones pass."""

from __future__ import annotations

import copy
import json
from typing import Any

import pytest

from herd.state.envelope import problem_of
from tests.support.paths import ROOT

UUID = "0190f3a2-9999-7000-8000-000000000001"


def golden(name: str) -> dict[str, Any]:
    return dict(json.loads((ROOT / f"tests/vectors/events/{name}.json").read_text())["event"])


def changed(name: str, path: str, value: Any) -> dict[str, Any]:
    event: Any = copy.deepcopy(golden(name))
    *parents, last = path.split(".")
    inner = event
    for step in parents:
        inner = inner[int(step)] if step.isdigit() else inner[step]
    inner[int(last) if last.isdigit() else last] = value
    return dict(event)


IMPOSSIBLE = [
    ("udder.v1", "id", "not-an-id", "id"),
    ("doe.v1", "data.f.mark", "x" * 61, "f.mark"),
    ("udder.v1", "id", UUID.upper(), "id"),
    ("udder.v1", "v", "1", "v"),
    ("udder.v1", "v", True, "v"),
    ("udder.v1", "on", "2026-02-30", "on"),
    ("udder.v1", "on", "26-2-3", "on"),
    ("udder.v1", "slot", "noon", "slot"),
    ("udder.v1", "happened", 1.5, "happened"),
    ("udder.v1", "happened", -1, "happened"),
    ("udder.v1", "hlc", "019b00000000-1-0190f3a2", "hlc"),
    ("udder.v1", "author", "", "author"),
    ("udder.v1", "seq", 5, "data"),
    ("udder.v1", "data", [], "data"),
    ("udder.v1", "data.fill", 5, "fill"),
    ("udder.v1", "data.fill", True, "fill"),
    ("udder.v1", "data.fill", 2.0, "fill"),
    ("udder.v1", "data.uneven", 0, "uneven"),
    ("udder.v1", "data.colour", "red", "colour"),
    ("doe.v1", "data.f", {}, "f"),
    ("doe.v1", "data.f.name", "", "f.name"),
    ("doe.v1", "data.f.name", "x" * 41, "f.name"),
    ("doe.v1", "data.f.name", "a\u0000b", "f.name"),
    ("doe.v1", "data.f.mature_kg", 9, "f.mature_kg"),
    ("doe.v1", "data.f.mature_kg", 141, "f.mature_kg"),
    ("doe.v1", "data.f.breed", "sheep", "f.breed"),
    ("doe.v1", "data.f.horns", 2, "f.horns"),
    ("doe.v1", "data.base", None, "base"),
    ("doe.v1", "data.base.name", "yesterday", "base.name"),
    ("pen.v1", "data.f.waste_pm", 601, "f.waste_pm"),
    ("feed.v1", "data.f.cu_ppm_x100", -1, "f.cu_ppm_x100"),
    ("feed.v1", "data.f.cu_ppm_x100", 100_000_001, "f.cu_ppm_x100"),
    ("feed.v1", "data.f.s_pct_x100", 10_001, "f.s_pct_x100"),
    ("feed.v1", "data.f.class", "hay", "f.class"),
    ("feed.v1", "data.f.sprout_days", 9, "f.sprout_days"),
    ("feed.v1", "data.f.tdn_by", "guess", "f.tdn_by"),
    ("feed.v1", "data.f.lab_on", "May", "f.lab_on"),
    ("feed.v1", "data.f.free_choice", 1, "f.free_choice"),
    ("lot.v1", "data.f.free_choice", True, "f.free_choice"),
    ("water.v1", "data.values", [], "values"),
    ("water.v1", "data.values.0.printed", "about 5", "values.0.printed"),
    ("water.v1", "data.values.0.printed", "-5", "values.0.printed"),
    ("water.v1", "data.values.0.what", "lead", "values.0.what"),
    ("water.v1", "data.values.0.unit", "kg", "values.0.unit"),
    ("water.v1", "data.values.1.what", "sulfate", "values.1.what"),
    ("water.v1", "data.drunk_l", 0, "drunk_l"),
    ("water.v1", "data.place", "x" * 41, "place"),
    ("feed.v1", "data.f.dm_pct_x10", 0, "f.dm_pct_x10"),
    ("feed.v1", "data.f.cp_pct_x10", "12", "f.cp_pct_x10"),
    ("rules.v1", "data.f.Level", 1, "f.Level"),
    ("rules.v1", "data.f.level_pm", True, "f.level_pm"),
    ("ration.v1", "data.steps.0.g", 60_001, "steps.0.g"),
    ("ration.v1", "data.steps.0.g", -1, "steps.0.g"),
    ("ration.v1", "data.steps.1.on", "2026-11-20", "steps"),
    ("ration.v1", "data.steps", [], "steps"),
    ("ration.v1", "data.base", "now", "base"),
    ("bred.v1", "data.to_on", "2026-08-19", "to_on"),
    ("preg_check.v1", "data.kids", 6, "kids"),
    ("kidded.v1", "data.alive", 4, "alive"),
    ("fed.v1", "data.lines", [], "lines"),
    ("fed.v1", "data.lines.0.g", 600_001, "lines.0.g"),
    ("fed.v1", "data.lines.1.g", 60_001, "lines.1.g"),
    ("fed.v1", "data.lines.0.to", "everybody", "lines.0.to"),
    ("fed.v1", "data.lines.0.feed", "", "lines.0.feed"),
    ("fed.v1", "data.lines.0", None, "lines.0"),
    ("intake.v1", "data.left_pct", 101, "left_pct"),
    ("score.v1", "data.x100", 280, "x100"),
    ("score.v1", "data.x100", 525, "x100"),
    ("signs.v1", "data.seen", ["sneezing"], "seen"),
    ("signs.v1", "data.seen", ["alone", "alone"], "seen"),
    ("signs.v1", "data.absent", ["alone"], "absent"),
    ("weight.v1", "data.kg_x10", 4, "kg_x10"),
    ("weight.v2", "data.g", 499, "g"),
    ("milk.v1", "data.g", 20_001, "g"),
    ("note.v1", "data.text", "   ", "text"),
    ("note.v1", "data.text", 7, "text"),
    ("void.v1", "data.of", "", "of"),
    ("contact.v1", "data.f.role", "uncle", "f.role"),
    ("contact.v1", "data.f.phone", "5" * 41, "f.phone"),
    ("shelf.v1", "data.f.card", "colic", "f.card"),
    ("shelf.v1", "data.f.told", "x" * 1_001, "f.told"),
    ("scoop.v1", "data.f.feed", "", "f.feed"),
    ("jar.v1", "data.f.days", 15, "f.days"),
    ("jar.v1", "data.f.dry_g", 0, "f.dry_g"),
    ("lot.v1", "data.f.use_by_d", 61, "f.use_by_d"),
    ("doe.v1", "data.f.sex", "wether", "f.sex"),
    ("calibration.v1", "data.fills_g", [], "fills_g"),
    ("calibration.v1", "data.fills_g", [200] * 11, "fills_g"),
    ("calibration.v1", "data.fills_g", [200, 0], "fills_g"),
    ("calibration.v1", "data.fills_g", [200, "210"], "fills_g"),
    ("calibration.v1", "data.of", "bucket", "of"),
    ("new_bag.v1", "data.feed", "", "feed"),
    ("treatment.v1", "data.product", " ", "product"),
    ("treatment.v1", "data.carries", ["zinc"], "carries"),
    ("treatment.v1", "data.carries", ["copper", "copper"], "carries"),
    ("treatment.v1", "data.milk_until", "soon", "milk_until"),
    ("freeze.v1", "data.grain_out", 1, "grain_out"),
    ("freeze.v1", "data.until_on", None, "until_on"),
    ("round.v1", "data.count", 501, "count"),
    ("triage.v1", "data.result", "fine", "result"),
    ("triage.v1", "data.bullied", True, "bullied"),
    ("checkup.v2", "data.eyes", 6, "eyes"),
    ("checkup.v2", "data.belly", "round", "belly"),
    ("correct.v1", "data.data", None, "data"),
    ("correct.v1", "data.author", UUID, "author"),
]


@pytest.mark.parametrize(("name", "path", "value", "field"), IMPOSSIBLE)
def test_an_impossible_value_is_refused_by_name(name: str, path: str, value: Any, field: str) -> None:
    problem = problem_of(changed(name, path, value))
    assert problem is not None
    assert (problem.code, problem.field) == ("bad_field", field)
    assert problem.why[0].isupper()
    assert problem.why.endswith(".")


def test_the_sentence_says_what_would_do() -> None:
    problem = problem_of(changed("ration.v1", "data.steps.0.g", 60_001))
    assert problem is not None
    assert problem.why == "Grams must be between 0 and 60000."
    many = problem_of(changed("calibration.v1", "data.fills_g", [200] * 11))
    assert many is not None
    assert many.why == "Grams of each fill: give between 1 and 10 numbers."


ODD = [
    ("udder.v1", "on", "1999-01-01"),
    ("udder.v1", "happened", 0),
    ("doe.v1", "data.f.born_on", ""),
    ("doe.v1", "data.f.mature_kg", 0),
    ("doe.v1", "data.f.mark", ""),
    ("doe.v1", "data.f.mark", "é" * 60),
    ("bred.v1", "data.to_on", "2027-08-19"),
    ("kidded.v1", "data.alive", 0),
    ("fed.v1", "data.lines.0.g", 600_000),
    ("milk.v1", "data.g", 0),
    ("weight.v2", "data.g", 200_000),
    ("note.v1", "data.text", "ночь 🌙\tok"),
]


@pytest.mark.parametrize(("name", "path", "value"), ODD)
def test_an_odd_value_is_accepted(name: str, path: str, value: Any) -> None:
    assert problem_of(changed(name, path, value)) is None


OPTIONAL = {
    "correct.v1": ("on", "slot", "happened"),
    "ration.v2": ("act", "of", "from_pm", "to_pm", "by_on", "reason"),
    "preg_check.v2": ("aged_d",),
    "udder.v2": ("felt",),
    "kid_look.v2": ("fed_g",),
    "kid_look.v3": ("of", "fed_g"),
    "wish.v2": ("act", "of", "from_pm", "to_pm", "by_on", "pen"),
}


@pytest.mark.parametrize("name", [path.stem for path in sorted((ROOT / "tests/vectors/events").glob("*.json"))])
def test_no_field_may_be_missing_and_none_may_be_of_another_type(name: str) -> None:
    event = golden(name)
    for field in event:
        assert problem_of({key: value for key, value in event.items() if key != field}), field
    for field in event["data"]:
        optional = field in OPTIONAL.get(name, ())
        missing = {**event, "data": {key: value for key, value in event["data"].items() if key != field}}
        assert optional or problem_of(missing), field
        assert problem_of({**event, "data": {**event["data"], field: {"odd": []}}}) or field in ("f", "data"), field


def test_an_unknown_kind_or_version_is_not_judged_by_its_content() -> None:
    assert problem_of({**golden("udder.v1"), "kind": "ketones", "data": {"any": ["thing"]}}) is None
    assert problem_of({**golden("udder.v1"), "v": 3, "data": {"half": 1}}) is None


@pytest.mark.parametrize("data", [None, 5, "text", [], [{}], True])
@pytest.mark.parametrize(("kind", "v"), [("udder", 1), ("udder", 9), ("void", 2), ("ketones", 1)])
def test_content_that_is_no_table_of_fields_is_refused_whatever_the_kind(kind: str, v: int, data: object) -> None:
    problem = problem_of({**golden("udder.v1"), "kind": kind, "v": v, "data": data})
    assert problem is not None
    assert (problem.code, problem.field) == ("bad_field", "data")
