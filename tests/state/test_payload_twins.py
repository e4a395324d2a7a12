"""What the server refuses the form refuses, at the same field, for random payloads of every kind and version."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest

from frontend import client_build
from herd.state.kinds import KINDS
from herd.state.payloads import problem_in
from tests.support.random_payloads import payload

CASES = 6_000


@pytest.mark.timeout(300)
def test_both_sides_judge_random_payloads_alike(tmp_path: Path) -> None:
    dice = random.Random("payloads")
    made = [payload(dice) for _ in range(CASES)]
    file = tmp_path / "payloads.jsonl"
    file.write_text("".join(json.dumps(one) + "\n" for one in made))
    done = client_build.run(["tests/support/payloads.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    found = [problem_in(one["kind"], one["v"], one["data"]) for one in made]
    here = [problem.field if problem else None for problem in found]
    there = json.loads(done.stdout)
    assert len(there) == CASES
    differ = [(one, mine, theirs) for one, mine, theirs in zip(made, here, there, strict=True) if mine != theirs]
    assert not differ, f"{len(differ)} differ, the first: {differ[0]}"
    for kind, versions in ((kind.name, kind.versions) for kind in KINDS.values()):
        verdicts = {field is None for one, field in zip(made, here, strict=True) if one["kind"] == kind}
        assert verdicts == {True, False}, f"{kind} {versions}: never accepted, or never refused"
