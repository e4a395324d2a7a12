"""The phone reads a laboratory report to the same figures and the same remarks as the server, on generated reports."""

from __future__ import annotations

import json
import random
from pathlib import Path
from typing import Any

from frontend import client_build
from herd.science.card.portions import ELEMENTS
from herd.science.lab.columns import ENERGIES, ENERGY_UNITS, SHARES, UNITS
from herd.science.lab.energy import TDN_WAYS
from herd.science.lab.minerals import read_minerals
from herd.science.lab_report import KINDS, Report, read_report
from tests.support.generate_cases import canonical

COUNT = 6000
USUAL = {"cp": 18, "ndf": 45, "adf": 33, "lignin": 7, "fat": 2, "ash": 9, "tdn": 58, "ca": 1.4, "p": 0.25, "nel": 0.6}
ODD = ("", " ", "12%", "-1", "1e3", "999999.9999", "0", "0.0", "٣", "1.23456", "5,0 ", "0005")
FIGURES = ("dm", "moisture", *SHARES, *ENERGIES)


def written(dice: random.Random, name: str, share: float) -> str:
    if dice.random() < 0.03:
        return dice.choice(ODD)
    usual = {**USUAL, "dm": 89, "moisture": 11, "me": 2.1}[name] * share * dice.uniform(0.9, 1.1)
    scale = dice.choice((1, 1, 1, 1, 1, 10, 2.2, 10_000, 4.2))
    number = f"{usual * scale:.{dice.randint(0, 4)}f}"
    return number.replace(".", dice.choice("..,"))


def report_of(dice: random.Random) -> dict[str, Any]:
    some = dice.choice((0.2, 0.5, 0.9))
    received = {name: written(dice, name, 0.89) for name in FIGURES if dice.random() < some}
    dry = {name: written(dice, name, 1.0) for name in FIGURES[2:] if dice.random() < some}
    units = {name: dice.choice((*UNITS, "lb")) for name in SHARES if dice.random() < 0.1}
    units |= {name: dice.choice(ENERGY_UNITS) for name in ENERGIES if dice.random() < 0.3}
    kept = dice.choice((received, {name: text for name, text in received.items() if name in ("dm", "moisture")}))
    return {
        "received": kept,
        "dry": dice.choice((dry, dry, {})),
        "units": units,
        "kind": dice.choice(KINDS),
        "cured": dice.random() < 0.6,
        "tdn_by": dice.choice(TDN_WAYS),
    }


def minerals_of(dice: random.Random) -> list[Any]:
    some = dice.choice((0.1, 0.4))
    received, dry = ({name: mineral(dice) for name in ELEMENTS if dice.random() < some} for _ in range(2))
    units = {name: dice.choice((*UNITS, "lb")) for name in ELEMENTS if dice.random() < 0.2}
    return [received, dry, units, dice.choice((None, 893, 1000, dice.randint(1, 1000)))]


def mineral(dice: random.Random) -> str:
    return dice.choice(ODD) if dice.random() < 0.03 else f"{10 ** dice.uniform(-3, 5):.{dice.randint(0, 4)}f}"


def mineral_outcome(given: list[Any]) -> dict[str, Any]:
    found = read_minerals(*given)
    return {"fields": found.fields, "problems": [[one.code, one.field, one.value] for one in found.problems]}


def outcome_of(report: dict[str, Any]) -> dict[str, Any]:
    found = read_report(Report(**report))
    remarks = {
        name: [[one.code, one.field, one.value] for one in listed]
        for name, listed in (("problems", found.problems), ("notes", found.notes))
    }
    return {"fields": dict(found.fields), "tdn_by": found.tdn_by, **remarks}


def test_generated_reports_agree_to_the_byte(tmp_path: Path) -> None:
    dice, file, accepted = random.Random("lab"), tmp_path / "reports.jsonl", 0
    with file.open("w") as out:
        for _ in range(COUNT):
            report = report_of(dice)
            outcome, minerals = outcome_of(report), minerals_of(dice)
            accepted += not outcome["problems"]
            whole = canonical({**outcome, "minerals": mineral_outcome(minerals)})
            out.write(json.dumps({"report": report, "minerals": minerals, "outcome": whole}) + "\n")
    assert COUNT // 10 < accepted < COUNT, "the reports must be of both sorts"
    done = client_build.run(["tests/support/lab_twin.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert not found["differ"], "\n".join(found["differ"][:3])
    assert found["cases"] == COUNT
