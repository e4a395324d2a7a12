"""A seeded sample of the run over all parameters: `python -m tests.science.mutations`."""

from __future__ import annotations

import subprocess
import sys

import pytest

from tests.support.paths import ROOT

SAMPLE, SEED = "30", "2027"


@pytest.mark.slow
def test_a_parameter_wrong_by_15_per_cent_is_noticed() -> None:
    asked = [sys.executable, "-m", "tests.science.mutations", "--sample", SAMPLE, "--seed", SEED]
    done = subprocess.run(asked, cwd=ROOT, capture_output=True, text=True, check=False)
    print(done.stdout)
    assert done.returncode == 0, done.stdout + done.stderr
    assert " 0 noticed" not in done.stdout
