import pytest

from frontend import client_build


@pytest.mark.slow
@pytest.mark.timeout(600)
def test_client_tests_pass() -> None:
    client_build.install()
    done = client_build.run(["node_modules/vitest/vitest.mjs", "run"], capture_output=True)
    print(done.stdout[-20_000:], done.stderr[-5_000:])
    assert done.returncode == 0, "vitest failed; its output stands above"
