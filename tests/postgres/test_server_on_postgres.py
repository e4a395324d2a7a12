import os
import subprocess
import sys

import pytest

from tests.support.paths import ROOT
from tests.support.postgres import NoPostgres, postgres
from tests.support.thorough import THOROUGH

ROOMS = ("tests/models", "tests/services", "tests/api")
# What these try at length, a database has no part in; of other files, single cases are marked `any_database`. The last
# counts the steps of SQLite's own machine.
ELSEWHERE = (
    "tests/api/test_role_matrix.py",
    "tests/services/test_last_night.py",
    "tests/services/test_same_as_rebuilt.py",
    "tests/services/test_stands.py",
    "tests/services/test_cost.py",
)
# Of a test with many cases the first few are tried: SQLite has tried them all.
CASES_EACH = "" if THOROUGH else "2"


@pytest.mark.postgres
@pytest.mark.slow
@pytest.mark.timeout(900)
def test_server_tests_pass_on_postgresql() -> None:
    rooms = [room for room in ROOMS if (ROOT / room).is_dir()]
    assert rooms, "there are no server tests to run"
    try:
        with postgres() as url:
            done = run_tests(rooms, url)
    except NoPostgres as lacking:
        pytest.skip(str(lacking))
    print(done.stdout[-20_000:], done.stderr[-5_000:])
    assert done.returncode == 0, "the server tests fail on PostgreSQL; their output stands above"


def run_tests(rooms: list[str], url: str) -> subprocess.CompletedProcess[str]:
    # What is slow goes round for long on one database: what it looks at does not hang on which.
    quick = ["-m", "not slow and not any_database", "-p", "no:cacheprovider", "-p", "no:xdist"]
    command = [sys.executable, "-m", "pytest", "-q", *quick, *rooms, *(f"--ignore={file}" for file in ELSEWHERE)]
    env = {**os.environ, "DATABASE_URL": url, "MANGERLINE_CASES_EACH": CASES_EACH}
    return subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)
