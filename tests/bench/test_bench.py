"""That the measuring runs; never how long anything took."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

from tests.bench.stretches import Trace
from tests.bench.table import Row, p95, show
from tests.support import chromium
from tests.support.paths import ROOT
from tests.support.thorough import THOROUGH


def run(*arguments: str) -> str:
    command = [sys.executable, "-m", "tests.bench", "--small", *arguments]
    env = {**os.environ, "MANGERLINE_BENCH_SLOWER": "1"}
    done = subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_table_lines_up() -> None:
    lines = show([Row("push", "one", 1234.5, "ms"), Row("tap", "another one", 3.14159, "ms", "x")]).splitlines()
    assert lines == ["push  one          1,234 ms", "tap   another one   3.14 ms      x"]


def test_p95_lies_between_the_largest_two_of_twenty() -> None:
    assert p95([float(i) for i in range(1, 21)]) == pytest.approx(19.05)


def test_a_stretch_counts_where_it_begins() -> None:
    trace = Trace([(0, 9.0), (10, 4.0), (19, 2.0), (20, 7.0), (31, 1.0)], [("ended", 20), ("began", 10), ("ended", 5)])
    assert trace.between("began", "ended") == [4.0, 2.0]
    assert trace.between("began", "never") == []


@pytest.mark.slow
def test_bundle_and_server_are_measured(built_client: None) -> None:
    said = run("bundle", "server")
    assert "js brotli" in said
    assert "idle farm: queries" in said
    assert "a doe, median" in said


@pytest.mark.slow
@pytest.mark.postgres
def test_pushes_are_measured_on_both_databases(built_client: None) -> None:
    said = run("push")
    assert said.count("x batched") == 2


# A crowd on both databases takes four servers, a history two farms.
OVER_TIME = {"soak": "last third over the second"}
ALL_TIMES = {"history": "bootstrap, most over fewest", "home": "outlooks up to date after"} if THOROUGH else {}


@pytest.mark.slow
def test_what_hours_years_and_a_crowd_cost_is_measured(built_client: None) -> None:
    wanted = OVER_TIME | ALL_TIMES
    said = run(*wanted)
    assert [words for words in wanted.values() if words not in said] == []


# Each takes a minute.
PHONE = {
    "phone": (
        "blank cached page, painted",
        "cold, no server, to the first rows",
        "to the whole list, CPU of all threads at 1x",
        "tap on a bare page, p95",
        "tap left some, to the second frame, p95",
    ),
}
ACTS = {
    "acts": (
        "from her row to what would do it, processor time, p95",
        "from her row to what would do it, p95, 1x",
        "opened cold",
        "after 2 s idle",
        "longest stretch of work while it searches, processor time",
        "longest stretch of work by the clock",
        "left some, in the middle of working ahead, p95",
    ),
}
IN_A_BROWSER = PHONE | ACTS

if THOROUGH:

    @pytest.mark.slow
    @pytest.mark.browser
    @pytest.mark.parametrize("part", IN_A_BROWSER)
    def test_it_is_measured_in_a_browser(built_client: None, part: str) -> None:
        try:
            chromium.find()
        except chromium.NoChromium as lacking:
            pytest.skip(str(lacking))
        said = run(part)
        assert [words for words in IN_A_BROWSER[part] if words not in said] == []
