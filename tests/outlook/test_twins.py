"""The phone's fold against ours, and what it judges in steps against the whole: the same bytes, on generated farms."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from frontend import client_build
from tests.support.generate_cases import canonical, cases
from tests.support.outlooks import ranks
from tests.support.thorough import times

COUNT = times("MANGERLINE_TWIN_CASES", 2400, 9600)
SEED = int(os.environ.get("MANGERLINE_TWIN_SEED", "1"))


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_generated_cases_agree_to_the_byte(tmp_path: Path) -> None:
    file = tmp_path / "cases.jsonl"
    with file.open("w") as out:
        for case in cases(COUNT, SEED):
            out.write(json.dumps({**case, "view": canonical(case["view"])}) + "\n")
    done = client_build.run(["tests/support/twin.ts", str(file)], capture_output=True)
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert not found["differ"], "\n".join(found["differ"][:5])
    assert found["cases"] == COUNT
    unsaid = ranks().keys() - found["said"]
    assert len(unsaid) <= 3, f"the cases must reach nearly every prompt, and not {sorted(unsaid)}"
    # the quick way a phone takes after a tap was tried often enough to mean something
    assert found["stepped"] > COUNT // 10
    assert found["changed"] > COUNT // 10
    assert found["planned"] > COUNT // 10
