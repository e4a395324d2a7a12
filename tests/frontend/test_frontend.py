import json
import sys
from pathlib import Path

import pytest

from frontend import client_build


@pytest.mark.slow
@pytest.mark.timeout(1500)
@pytest.mark.parametrize("config", ["vitest.config.ts", "vitest.protocol.config.ts"])
def test_client_tests_pass(config: str) -> None:
    client_build.prepare()
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


def test_what_only_checks_the_client_is_not_needed_to_build_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    built = {
        "": {},
        "node_modules/builds": {"version": "1"},
        "node_modules/elsewhere": {"version": "1", "optional": True},
    }
    (tmp_path / "package-lock.json").write_text(
        json.dumps({"packages": {**built, "node_modules/tests": {"version": "1", "dev": True}}})
    )
    monkeypatch.setattr(client_build, "CLIENT", tmp_path)
    assert not client_build.installed(to_test=False)
    (tmp_path / "node_modules").mkdir()
    hidden = tmp_path / "node_modules/.package-lock.json"
    hidden.write_text(json.dumps({"packages": {"node_modules/builds": {"version": "1"}}}))
    assert client_build.installed(to_test=False)
    assert not client_build.installed(to_test=True)
    hidden.write_text(json.dumps({"packages": {"node_modules/builds": {"version": "2"}}}))
    assert not client_build.installed(to_test=False)
