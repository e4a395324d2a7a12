"""The phone's fold and evaluation against ours: the same bytes for the same farm, on generated cases."""

from __future__ import annotations

import json
import os
from collections import Counter
from pathlib import Path

import pytest

from frontend import client_build
from herd.outlook.prompts import RANKS
from tests.support.generate_cases import cases

COUNT = int(os.environ.get("MANGERLINE_TWIN_CASES", "2000"))
SEED = int(os.environ.get("MANGERLINE_TWIN_SEED", "1"))


@pytest.mark.timeout(900)
def test_generated_cases_agree_to_the_byte(tmp_path: Path) -> None:
    file = tmp_path / "cases.jsonl"
    said: Counter[str] = Counter()
    with file.open("w") as out:
        for case in cases(COUNT, SEED):
            out.write(json.dumps(case) + "\n")
            said.update(doe["prompt"]["code"] for doe in json.loads(case["results"])["does"].values() if doe["prompt"])
    assert len(RANKS.keys() - said.keys()) <= 3, "the cases must reach nearly every prompt"
    done = client_build.run(["tests/support/twin.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert not found["differ"], "\n".join(found["differ"][:5])
    assert found["cases"] == COUNT
    # the quick way a phone takes after a tap was tried often enough to mean something
    assert found["stepped"] > COUNT // 10
    assert found["changed"] > COUNT // 10
