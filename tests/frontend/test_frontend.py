import sys

import pytest

from frontend import client_build


@pytest.mark.slow
@pytest.mark.timeout(900)
@pytest.mark.parametrize("config", ["vitest.config.ts", "vitest.protocol.config.ts"])
def test_client_tests_pass(config: str) -> None:
    client_build.install()
    command = ["node_modules/vitest/vitest.mjs", "run", "--config", config]
    # The protocol tests start a server of their own, with this Python.
    done = client_build.run(command, capture_output=True, env={"MANGERLINE_PYTHON": sys.executable, "NO_COLOR": "1"})
    print(done.stdout[-20_000:], done.stderr[-5_000:])
    assert done.returncode == 0, "vitest failed; its output stands above"


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_client_is_linted() -> None:
    client_build.install()
    done = client_build.run(["node_modules/eslint/bin/eslint.js", "."], capture_output=True)
    print(done.stdout[-20_000:], done.stderr[-5_000:])
    assert done.returncode == 0, "eslint found something; it stands above"
