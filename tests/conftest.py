from __future__ import annotations

import fcntl
import os
import tempfile

# Playwright's sync API leaves an event loop in this thread, and Django would then refuse every query in it.
os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")

from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pytest
from django.db import connections

from frontend import client_build
from tests.support import changed, chromium
from tests.support.live import Server
from tests.support.sources import name

STRICT = os.environ.get("CI_STRICT") == "1"
# Which case of its test it is.
PLACE = pytest.StashKey[int]()
PHONE = {"width": 360, "height": 740}


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item: pytest.Item, call: pytest.CallInfo[Any]) -> Any:
    """With CI_STRICT=1 a skipped test is a failed one: a machine that lacks something must not look green."""
    report = yield
    if STRICT and report.skipped and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"skipped, and CI_STRICT=1 allows none: {call.excinfo and call.excinfo.value}"
    return report


def pytest_addoption(parser: pytest.Parser) -> None:
    about = "only the rooms that differ from a commit, and those to their right (without a name: the commit before)"
    parser.addoption("--changed", nargs="?", const="HEAD~1", metavar="COMMIT", help=about)


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    for item in items:
        if "browser" in getattr(item, "fixturenames", ()):
            item.add_marker("browser")
    if most := os.environ.get("MANGERLINE_CASES_EACH"):
        items[:] = first_cases(items, int(most))
    if since := config.getoption("--changed"):
        wanted = tuple(changed.tests_since(since))
        left = [item for item in items if not name(item.path).startswith(wanted)]
        config.hook.pytest_deselected(items=left)
        items[:] = [item for item in items if name(item.path).startswith(wanted)]
    items.sort(key=longest_first)


def first_cases(items: list[pytest.Item], most: int) -> list[pytest.Item]:
    seen: Counter[str] = Counter()
    for item in items:
        seen[item.nodeid.split("[")[0]] += 1
        item.stash[PLACE] = seen[item.nodeid.split("[")[0]]
    return [item for item in items if item.stash[PLACE] <= most]


def longest_first(item: pytest.Item) -> int:
    """What takes minutes must not begin last; within, the order stays, for the sake of fixtures of a file."""
    return 0 if item.get_closest_marker("slow") else 1 if item.get_closest_marker("browser") else 2


@pytest.hookimpl(optionalhook=True)
def pytest_xdist_make_scheduler(config: pytest.Config, log: Any) -> Any:
    """With -n: whoever is done takes from the others, so no worker sits idle beside a queue of browser tests."""
    from xdist.scheduler import WorkStealingScheduling

    return WorkStealingScheduling(config, log)


def pytest_configure(config: pytest.Config) -> None:
    """Python asks the client's evaluator, so whoever changed it must be testing what was written: built once, before
    any worker starts."""
    if not hasattr(config, "workerinput"):
        with one_at_a_time():
            client_build.build_engine()
            if not client_build.WIRE.exists():
                client_build.write_wire()


@contextmanager
def one_at_a_time() -> Iterator[None]:
    with open(Path(tempfile.gettempdir()) / f"mangerline-build-{os.getuid()}.lock", "w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        yield


@pytest.fixture(scope="session")
def built_client() -> None:
    """The client, built from the sources as they stand. Servers look for its files once, when they start."""
    with one_at_a_time():
        client_build.build()


@pytest.fixture(scope="session")
def django_db_modify_db_settings(tmp_path_factory: pytest.TempPathFactory) -> None:
    """SQLite tests run on a file of their own, as the server does: in memory, threads would share one lock."""
    settings = connections["default"].settings_dict
    if settings["ENGINE"].endswith("sqlite3"):
        settings["TEST"]["NAME"] = str(tmp_path_factory.mktemp("database") / "test.sqlite3")


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args: dict[str, Any]) -> dict[str, Any]:
    try:
        program = chromium.find()
    except chromium.NoChromium as lacking:
        pytest.skip(str(lacking))
    return {**browser_type_launch_args, "executable_path": str(program), "args": chromium.ARGS}


@pytest.fixture(scope="session")
def browser_context_args(browser_context_args: dict[str, Any]) -> dict[str, Any]:
    # A locale of its own: under LANG=C the chart library dies at import.
    phone = {"viewport": PHONE, "is_mobile": True, "has_touch": True}
    return {**browser_context_args, **phone, "locale": "en-GB", "timezone_id": "UTC"}


@pytest.fixture
def server(built_client: None, tmp_path: Path) -> Iterator[Server]:
    """A running server with an empty, migrated database."""
    made = Server(tmp_path)
    made.manage("migrate", "--verbosity", "0")
    with made:
        yield made


@pytest.fixture(scope="module")
def demo_server(built_client: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A running server with the demo farm, shared by the tests of one file."""
    with Server(tmp_path_factory.mktemp("demo")).with_demo() as made:
        yield made
