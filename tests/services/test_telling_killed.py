"""The process that sends notices is killed between any two of its steps: each is shown once, and none is lost."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.paths import ROOT
from tests.support.thorough import times

KILLS = times("MANGERLINE_PUSH_KILLS", 40, 1000)


@pytest.mark.slow
@pytest.mark.any_database
@pytest.mark.timeout(120 + 2 * KILLS)
def test_killed_between_any_two_steps_nothing_is_shown_twice_or_lost(tmp_path: Path) -> None:
    others = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    env = {**others, "MANGERLINE_DATA": str(tmp_path), "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "tests.support.push_kills", str(KILLS)]
    ran = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    tally = json.loads(ran.stdout)
    print(tally)
    assert tally["killed"] >= KILLS
    assert (tally["shown twice"], tally["lost"]) == (0, 0)
    assert tally["sent again"], "no kill fell between what was sent and what was written down"
