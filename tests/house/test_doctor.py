"""Each fault is planted, and the doctor names it with something to do; a healthy server hears nothing bad."""

from __future__ import annotations

import json
import socket
import ssl
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime, timedelta
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.contrib.sessions.models import Session
from django.core.management import call_command
from django.db import connection
from django.db.migrations.recorder import MigrationRecorder

from herd.doctor import chores, machine, outside
from herd.doctor.finding import BAD, FINE, LOOK, NOT_SEEN, Finding
from herd.doctor.rounds import CHECKS, rounds
from herd.models import Event, Folded, WorkerSeen
from herd.services import last_backup
from herd.services.clock import now_ms
from tests.logs import record
from tests.people import make_people
from tests.phones import Phone, new_id
from tests.support.house_ca import NoOpenssl, authority, certificate
from tests.support.live import Server

pytestmark = pytest.mark.django_db


@pytest.fixture
def data(tmp_path: Path, settings: Any) -> Path:
    settings.DATA_DIR = tmp_path
    tmp_path.chmod(0o700)
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    return tmp_path


@pytest.fixture
def doe(data: Path) -> str:
    people, made = make_people(), new_id()
    ada = Phone(people.farm, people.ada)
    record(ada, ada.record("doe", made, {"name": "Ivy"}))
    return made


def found(about: str, level: str | None = None) -> Finding:
    every = [one for one in rounds([about]) if level is None or one.level == level]
    assert every, f"nothing {level} was said about {about}"
    return every[0]


def test_a_healthy_server_hears_nothing_bad(doe: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(machine, "TIME_FROM", "https://localhost:9/")
    WorkerSeen.objects.create(name="barn", seen_at_ms=now_ms())
    said = list(rounds())
    assert [one for one in said if one.level == BAD] == []
    assert {one.about.split(" of ")[0] for one in said} >= {name for name, _ in CHECKS} - {"certificates"}


def test_what_the_health_line_does_not_see_is_said(doe: str) -> None:
    said = found("pages")
    assert said.level in (FINE, NOT_SEEN)
    assert "/healthz" in said.says


def test_a_changed_entry(doe: str) -> None:
    assert found("entries").level == FINE
    Event.objects.update(raw="{}")
    said = found("entries")
    assert (said.level, "restore" in said.do) == (BAD, True)


def test_a_table_that_says_something_else(doe: str) -> None:
    Folded.objects.filter(subject=doe).update(json='{"f":{"name":"Elm"}}')
    assert "rebuild --farm" in found("tables", BAD).do


def test_tables_that_wait_for_a_change(doe: str) -> None:
    assert found("migrations").level == FINE
    recorder = MigrationRecorder(connection)
    recorder.record_unapplied(*max(one for one in recorder.applied_migrations() if one[0] == "herd"))
    said = found("migrations")
    assert (said.level, "not made yet" in said.says, "migrate_safe" in said.do) == (BAD, True, True)


def test_a_clock_that_went_back(doe: str) -> None:
    Event.objects.update(received_ms=int((time.time() + 3 * 86_400) * 1000))
    assert "Set the clock" in found("clock", BAD).do


def test_a_clock_beside_another(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    class Answer:
        headers = {"Date": "Sun, 01 Mar 2026 12:00:00 GMT"}

        def __enter__(self) -> Answer:
            return self

        def __exit__(self, *_: object) -> None:
            return None

    monkeypatch.setattr(machine.urllib.request, "urlopen", lambda *_, **__: Answer())
    there_ms = int(datetime(2026, 3, 1, 12, tzinfo=UTC).timestamp() * 1000)
    levels = [machine.heard(there_ms + off_s * 1000).level for off_s in (2, 60, -3600)]
    assert levels == [FINE, LOOK, BAD]


def test_no_other_clock_is_no_fault(data: Path) -> None:
    assert machine.heard(0, "https://localhost:9/").level == NOT_SEEN


@pytest.mark.parametrize(("free", "level"), [(50 * 2**20, BAD), (500 * 2**20, LOOK), (50 * 2**30, FINE)])
def test_the_disk(data: Path, monkeypatch: pytest.MonkeyPatch, free: int, level: str) -> None:
    usage = type("Usage", (), {"free": free, "total": 100 * 2**30})
    monkeypatch.setattr(machine.shutil, "disk_usage", lambda _: usage)
    assert found("disk").level == level


def test_files_others_can_read(data: Path) -> None:
    assert found("files").level == FINE
    (data / "secret_key").write_text("x")
    (data / "secret_key").chmod(0o644)
    assert found("files", BAD).do == f"chmod 600 {data}/secret_key"
    (data / "secret_key").chmod(0o600)
    data.chmod(0o755)
    assert found("files", LOOK).do == f"chmod 700 {data}"


@pytest.mark.parametrize("key", ["short", "a" * 64])
def test_a_weak_key(data: Path, settings: Any, key: str) -> None:
    settings.SECRET_KEY = key
    assert found("key").level == BAD


def test_names_and_proxy(data: Path, settings: Any) -> None:
    settings.ON_THE_NET, settings.SECURE_PROXY_SSL_HEADER = True, None
    for hosts, word in ((["*"], "every name"), (["https://herd.example.org"], "a name alone")):
        settings.ALLOWED_HOSTS = hosts
        assert word in found("names", BAD).says
    settings.ALLOWED_HOSTS = ["herd.example.org"]
    assert "MANGERLINE_BEHIND_PROXY" in found("names", BAD).do


def test_backups(data: Path) -> None:
    assert found("backup").level == LOOK
    file = data / "mangerline-20260101-020000.jsonl.gz"
    file.write_text("x")
    last_backup.note(data, file, [])
    assert found("backup", FINE).level == FINE
    assert "ever tried" in found("backup", LOOK).says
    old = (datetime.now(UTC) - timedelta(days=4)).isoformat()
    last_backup.note(data, file, ["some-id"], at=old, tried=old)
    said = [one for one in chores.backups() if one.level == BAD]
    assert [("1 entries" in one.says, "4 days" in one.says) for one in said] == [(True, False), (False, True)]
    assert "tried by restoring" in found("backup", FINE).says
    file.unlink()
    assert "no longer there" in found("backup", LOOK).says


def test_a_worker_that_stopped(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    name = "herd_workerseen_of_a_test"
    monkeypatch.setattr(chores, "WORKERS", name)
    now_ms = int(time.time() * 1000)
    with connection.cursor() as cursor:
        cursor.execute(f"CREATE TABLE {name} (seen_at_ms bigint, backlog int, due_since_ms bigint)")
        assert found("outlooks").level == BAD
        cursor.execute(f"INSERT INTO {name} VALUES (%s, 2, %s)", [now_ms - 400_000, None])
        assert found("outlooks").level == BAD
        cursor.execute(f"UPDATE {name} SET seen_at_ms = %s, due_since_ms = %s", [now_ms, now_ms - 3_600_000])
        assert "60 minutes" in found("outlooks", LOOK).says
        cursor.execute(f"UPDATE {name} SET due_since_ms = NULL")
        assert found("outlooks").level == FINE


def test_sign_ins_that_ended(data: Path) -> None:
    old = datetime.now(UTC) - timedelta(days=1)
    rows = [Session(session_key=str(n), session_data="", expire_date=old) for n in range(chores.MANY_SESSIONS + 1)]
    Session.objects.bulk_create(rows)
    assert "clearsessions" in found("sessions", LOOK).do


def test_a_mail_server_that_does_not_answer(data: Path, settings: Any) -> None:
    assert found("mail").level == FINE
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_PORT = "127.0.0.1", 9
    assert found("mail").level == BAD


@contextmanager
def speaks_tls(cert: Path, key: Path) -> Iterator[int]:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.load_cert_chain(cert, key)
    with socket.create_server(("127.0.0.1", 0)) as door:
        door.settimeout(20)

        def serve() -> None:
            try:
                line, _ = door.accept()
                with context.wrap_socket(line, server_side=True) as safe:
                    safe.recv(1)
            except OSError:
                return

        thread = threading.Thread(target=serve, daemon=True)
        thread.start()
        yield door.getsockname()[1]
        thread.join(20)


def test_certificates(data: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("ca")
    try:
        ca = authority(folder)
    except NoOpenssl as lacking:
        pytest.skip(str(lacking))
    long, none = certificate(folder, ca, "localhost", 90), data / "no-ca"
    with speaks_tls(*long) as port:
        assert "does not hold" in outside.certificate("localhost", port, none).says
    with speaks_tls(*long) as port:
        said = outside.certificate("localhost", port, ca[0])
        assert (said.level, "more days" in said.says) == (FINE, True)
    with speaks_tls(*certificate(folder, ca, "other.example.org", 90)) as port:
        assert outside.certificate("localhost", port, ca[0]).level == BAD
    assert outside.certificate("localhost", 9, none).level == NOT_SEEN


def test_what_stumbles_is_said_and_the_rest_is_looked_at(doe: str, monkeypatch: pytest.MonkeyPatch) -> None:
    def stumble() -> Iterator[Finding]:
        raise RuntimeError("no such thing")
        yield

    monkeypatch.setattr("herd.doctor.rounds.CHECKS", (("disk", stumble), *CHECKS[1:4]))
    said = list(rounds())
    assert (said[0].level, "no such thing" in said[0].says) == (BAD, True)
    assert len(said) > 3


def test_the_command_ends_with_one_when_something_is_bad(doe: str) -> None:
    out = StringIO()
    call_command("doctor", "--json", "--only", "entries", stdout=out)
    assert json.loads(out.getvalue())["bad"] == 0
    Event.objects.update(raw="{}")
    with pytest.raises(SystemExit) as ended:
        call_command("doctor", "--only", "entries", stdout=out)
    assert ended.value.code == 1
    assert "BAD" in out.getvalue()


@pytest.mark.slow
def test_a_backup_is_tried_by_restoring_it_elsewhere(tmp_path: Path) -> None:
    server = Server(tmp_path / "data").with_demo()
    kept = tmp_path / "kept"
    kept.mkdir()
    server.manage("backup", str(kept), "--keep", "3")
    assert "is whole" in server.manage("verify_backup", str(kept))
    assert last_backup.last(server.folder)["tried"]
    assert not [path for path in server.folder.iterdir() if path.is_dir()]
    [path] = kept.iterdir()
    path.write_bytes(path.read_bytes()[:-200])
    with pytest.raises(RuntimeError, match="did not pass"):
        server.manage("verify_backup", str(kept))
