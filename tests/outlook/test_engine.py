"""The client's evaluator as Python asks it: text comes back unharmed, errors in words, one that stopped is replaced."""

from __future__ import annotations

import asyncio
import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from frontend import client_build
from herd.outlook import engine
from herd.outlook.evaluate import FarmDay, evaluate
from herd.state.fold import fold
from tests.support.flat_doe import TODAY, one_doe
from tests.support.outlooks import book, outlook
from tests.support.paths import ROOT


def farm(**fields: Any) -> FarmDay:
    log = one_doe()
    log.record("doe", "fern", **fields)
    return FarmDay(fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)


def test_text_of_any_kind_comes_back_as_it_went() -> None:
    odd = 'Moß \U0001f410 \uffee "quoted"\n\u2028 \\ \x00 __proto__'
    log = one_doe()
    log.record("feed", odd, name=odd, like="hay")
    known = book()
    known["feeds"][odd] = {**known["feeds"]["hay"], "name": odd}
    assert FarmDay(fold(log.events), {}, known, TODAY).feed(odd)["name"] == odd


def test_a_question_is_answered_from_a_farm_opened_once() -> None:
    asked = farm()
    before = asked.ask("milk_on", "fern", TODAY)
    key = asked.key
    assert asked.ask("results")["does"].keys() == {"fern"}
    assert (before, asked.key) == (0, key)


def test_a_farm_that_had_to_leave_is_opened_again() -> None:
    first = farm()
    first.ask("ranks")
    key = first.key
    for _ in range(10):
        farm().ask("ranks")
    assert first.ask("standing", "fern") == "ok"
    assert first.key != key


def test_what_javascript_throws_is_told_with_its_words_and_its_place() -> None:
    log = one_doe()
    without = book()
    del without["rules"]["level_pm"]
    with pytest.raises(engine.EngineError, match=r"no herd rule level_pm[\s\S]+at Context\.rule"):
        evaluate(fold(log.events), {"fern": outlook("fern", TODAY)}, without, TODAY)
    with pytest.raises(engine.EngineError, match='no question "weather"; there are: results, prompt_at, clocks, ranks'):
        farm().ask("weather")
    assert farm().ask("standing", "fern") == "ok"


def test_an_engine_that_stopped_is_replaced(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = farm()
    assert asked.ask("standing", "fern") == "ok"
    with monkeypatch.context() as hurried:
        hurried.setattr(engine, "LONGEST_S", 1e-6)
        with pytest.raises(engine.EngineError, match="stopped"):
            asked.ask("results")
    assert asked.ask("standing", "fern") == "ok"


def test_without_a_bundle_it_says_what_to_run(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setattr(engine, "BUNDLE", tmp_path / "none.js")
    with pytest.raises(engine.EngineError, match=r"python manage\.py build_client"):
        engine.Engine().ask("", "[]", "")


def test_threads_share_one_and_a_running_loop_does_not_stop_it() -> None:
    with ThreadPoolExecutor(6) as threads:
        found = list(threads.map(lambda name: farm(name=name).ask("results")["does"]["fern"]["id"], "abcdefghijkl"))
    assert found == ["fern"] * 12

    async def inside() -> Any:
        return farm().ask("standing", "fern")

    assert asyncio.run(inside()) == "ok"


FORKED = """
import os, sys
from tests.outlook.test_engine import farm
asked = farm()
assert asked.ask("standing", "fern") == "ok"
for _ in range(3):
    child = os.fork()
    if not child:
        assert asked.ask("standing", "fern") == "ok"
        sys.exit(7)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 7
    assert asked.ask("standing", "fern") == "ok"
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="this system does not fork")
def test_a_forked_process_makes_its_own_and_ends() -> None:
    done = subprocess.run([sys.executable, "-c", FORKED], cwd=ROOT, timeout=60, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


STARTED = """
import sys
import django
django.setup()
from django.urls import get_resolver
assert get_resolver().url_patterns
from herd.outlook import evaluate
from herd.services import explain, recompile
assert "py_mini_racer" not in sys.modules
"""


def test_a_server_that_asks_nothing_loads_no_engine() -> None:
    env = {**os.environ, "DJANGO_SETTINGS_MODULE": "herd.settings"}
    done = subprocess.run([sys.executable, "-c", STARTED], cwd=ROOT, env=env, capture_output=True, text=True)
    assert done.returncode == 0, done.stderr


def test_thousands_of_questions_leave_nothing_behind() -> None:
    log = one_doe()
    given = (fold(log.events), {"fern": outlook("fern", TODAY)}, book(), TODAY)
    for _ in range(150):
        evaluate(*given)
    before = resident_kb()
    for _ in range(500):
        evaluate(*given)
    assert resident_kb() - before < 12_000


def resident_kb() -> int:
    if not Path("/proc/self/statm").exists():
        pytest.skip("memory is read from /proc, which this system lacks")
    return int(Path("/proc/self/statm").read_text().split()[1]) * os.sysconf("SC_PAGE_SIZE") // 1024


def test_the_bundle_is_made_of_the_sources_as_they_stand(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert not client_build.build_engine()
    made = tmp_path / "evaluator.js"
    made.write_text("// built from something older\n")
    monkeypatch.setattr(client_build, "ENGINE", made)
    assert client_build.build_engine()
    assert made.read_text() == engine.BUNDLE.read_text()
