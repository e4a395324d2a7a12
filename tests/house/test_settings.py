import os
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from herd.secret import secret_key
from tests.support.paths import ROOT

SETTINGS = ("SESSION_COOKIE_SECURE", "CSRF_COOKIE_SECURE", "SECURE_SSL_REDIRECT")


def manage(data: Path, *arguments: str, **env: str) -> subprocess.CompletedProcess[str]:
    ours = ("MANGERLINE_", "DATABASE_URL", "DJANGO_")
    clean = {key: value for key, value in os.environ.items() if not key.startswith(ours)}
    command = [sys.executable, "manage.py", *arguments]
    env = {**clean, "MANGERLINE_DATA": str(data), **env}
    return subprocess.run(command, cwd=ROOT, env=env, capture_output=True, text=True)


def shown(data: Path, **env: str) -> str:
    code = f"from django.conf import settings; print([getattr(settings, name) for name in {SETTINGS}])"
    return manage(data, "shell", "--no-imports", "-c", code, **env).stdout.strip()


def test_a_server_on_the_net_passes_the_deployment_checks(tmp_path: Path) -> None:
    key = "k3y-" + "".join(chr(97 + number % 26) for number in range(60))
    env = {"MANGERLINE_HOSTS": "herd.example.org", "MANGERLINE_SECRET_KEY": key}
    done = manage(tmp_path, "check", "--deploy", "--fail-level", "WARNING", **env)
    assert done.returncode == 0, done.stderr


def test_cookies_are_secure_on_the_net_and_work_on_localhost(tmp_path: Path) -> None:
    assert shown(tmp_path, MANGERLINE_HOSTS="herd.example.org") == "[True, True, True]"
    assert shown(tmp_path) == "[False, False, False]"


def test_cookies_are_bound_to_the_host_on_the_net(tmp_path: Path) -> None:
    code = (
        "from django.conf import settings as s; print(s.SESSION_COOKIE_NAME, s.CSRF_COOKIE_NAME, s.SESSION_COOKIE_PATH)"
    )
    on_the_net = manage(tmp_path, "shell", "--no-imports", "-c", code, MANGERLINE_HOSTS="herd.example.org").stdout
    assert on_the_net.strip() == "__Host-mangerline_session __Host-mangerline_csrf /"
    assert manage(tmp_path, "shell", "--no-imports", "-c", code).stdout.split()[0] == "mangerline_session"


def test_a_password_costs_a_guesser_something_and_a_small_machine_little(tmp_path: Path) -> None:
    """A password in 47 MiB by one lane: eight at once fit where the server runs."""
    code = "from django.contrib.auth.hashers import make_password as m; print(m('lantern over the gate'))"
    made = manage(tmp_path, "shell", "--no-imports", "-c", code).stdout
    assert made.startswith("argon2$argon2id$v=19$m=47104,t=1,p=1$")


def test_the_database_never_loses_an_acknowledged_write(tmp_path: Path) -> None:
    code = (
        "from django.db import connection as c; k = c.cursor();"
        "print([k.execute(f'PRAGMA {p}').fetchone()[0] for p in ('journal_mode', 'synchronous')], c.transaction_mode)"
    )
    done = manage(tmp_path, "shell", "--no-imports", "-c", code)
    assert done.stdout.strip() == "['wal', 2] IMMEDIATE", done.stderr


def test_the_key_is_made_once_and_readable_by_the_owner_only(tmp_path: Path) -> None:
    path = tmp_path / "key"
    with ThreadPoolExecutor(8) as pool:
        keys = set(pool.map(lambda _: secret_key(path), range(32)))
    assert len(keys) == 1
    assert len(keys.pop()) >= 50
    assert path.stat().st_mode & 0o077 == 0
    assert list(tmp_path.iterdir()) == [path]
