from __future__ import annotations

import gzip
import json
import stat
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from allauth.account.models import EmailAddress
from allauth.mfa.models import Authenticator
from django.core.management import CommandError, call_command

from herd.models import Audit, Blob, Event, Farm, Membership, Person, Quarantine
from herd.services.backup import backup
from herd.services.invitations import Place, find, invite
from herd.services.media import keep
from herd.services.members import remove
from herd.services.recompile import recompile
from herd.services.recovery import new_recovery_code, recover
from herd.services.restore import BadBackup, restore
from tests.logs import folded, outlooks, record
from tests.people import PASSWORD, People, make_people
from tests.phones import Phone, new_id, states
from tests.support.media import jpeg, mark, wave

MEDIA = [jpeg(grain=bytes(range(256)) * 40), wave()]


@pytest.fixture
def people(transactional_db: None, quick_hashes: None) -> People:
    return make_people()


@pytest.fixture
def saved(people: People, ada: Phone, tmp_path: Path) -> Path:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy 🐐"}), ada.event("score", doe, {"x100": 300}))
    record(ada, ada.event("score", doe, {"x100": 9}), ada.event("ketones", doe, {}))
    recompile(people.farm.id)
    for content in MEDIA:
        keep(people.farm.id, people.ada.pk, mark(content), content)
    backup(tmp_path / "all.jsonl.gz")
    return tmp_path / "all.jsonl.gz"


def test_what_was_saved_comes_back_to_the_byte_with_a_new_epoch(people: People, saved: Path) -> None:
    rows, live = list(Event.objects.order_by("seq").values()), folded(people.farm)
    docs = outlooks(people.farm)
    Event.objects.all().delete()
    Membership.objects.all().delete()
    counts = restore(saved)
    assert counts["event"] == 3
    assert list(Event.objects.order_by("seq").values()) == rows
    assert Quarantine.objects.count() == 1
    assert folded(people.farm) == live
    assert {doe: {**doc, "rev": 0} for doe, doc in outlooks(people.farm).items()} == {
        doe: {**doc, "rev": 0} for doe, doc in docs.items()
    }
    for farm in Farm.objects.all():
        assert farm.epoch > 1
        assert Audit.objects.filter(farm=farm, what="restored").count() == 1
    assert Person.objects.get(name="Ada").check_password(PASSWORD)


def test_pictures_and_spoken_notes_come_back_to_the_byte(people: People, saved: Path) -> None:
    rows = list(Blob.objects.order_by("pk").values())
    Blob.objects.all().delete()
    assert restore(saved)["blob"] == 2
    back = list(Blob.objects.order_by("pk").values())
    assert back == rows
    assert [bytes(row["content"]) for row in back] == MEDIA


def test_the_same_backup_twice_gives_two_epochs(people: People, saved: Path) -> None:
    restore(saved)
    first = Farm.objects.get(pk=people.farm.pk).epoch
    restore(saved)
    assert Farm.objects.get(pk=people.farm.pk).epoch > first


def test_entries_lost_by_the_restore_come_back_from_the_phone(people: People, ada: Phone, saved: Path) -> None:
    lost = ada.record("doe", new_id(), {"name": "Elm"})
    record(ada, lost)
    restore(saved)
    phone = Phone(Farm.objects.get(pk=people.farm.pk), people.ada).sign_in()
    assert phone.push_raw(phone.body([lost], epoch=1)).json()["code"] == "epoch"
    assert states(phone.push(lost)) == ["ok"]
    assert states(phone.push(lost)) == ["dup"]


def test_a_backup_from_before_rulings_is_read(people: People, saved: Path) -> None:
    lines = [json.loads(line) for line in gzip.decompress(saved.read_bytes()).splitlines()]
    lines[0]["v"] = 1
    del lines[-1]["end"]["ruling"]
    for line in lines:
        if line.get("t") == "event":
            del line["r"]["role"]
    saved.write_bytes(gzip.compress("\n".join(map(json.dumps, lines)).encode()))
    assert restore(saved)["event"] == 3
    assert set(Event.objects.values_list("role", flat=True)) == {""}


def test_what_people_sign_in_with_and_are_invited_by_comes_back(people: People, tmp_path: Path) -> None:
    EmailAddress.objects.create(user=people.ada, email="ada@example.org", verified=True, primary=True)
    Authenticator.objects.create(user=people.ada, type="webauthn", data={"name": "phone", "credential": {}})
    code = new_recovery_code(people.ada)
    _, token = invite(people.farm, Place("helper"), people.ada)
    remove(people.farm, people.cleo.pk, people.ada)
    backup(tmp_path / "more.gz")
    restore(tmp_path / "more.gz")
    assert EmailAddress.objects.get().user_id == people.ada.pk
    assert Authenticator.objects.get().data["name"] == "phone"
    assert find(token=token).farm_id == people.farm.pk
    assert Membership.everyone.get(person=people.cleo).gone_why == "removed"
    assert not Membership.objects.filter(person=people.cleo).exists()
    assert recover("ada", code, "thaw before the river") is not None
    EmailAddress.objects.create(user=people.ben, email="ben@example.org")


def test_a_backup_from_before_invitations_is_read(people: People, saved: Path) -> None:
    lines = [json.loads(line) for line in gzip.decompress(saved.read_bytes()).splitlines()]
    lines[0]["v"] = 2
    for name in ("email", "passkey", "invitation"):
        del lines[-1]["end"][name]
    for line in lines:
        if line.get("t") == "membership":
            for name in ("starts_on", "ends_on", "does", "pack", "gone_at", "gone_why"):
                del line["r"][name]
    saved.write_bytes(gzip.compress("\n".join(map(json.dumps, lines)).encode()))
    assert restore(saved)["membership"] == 4
    assert Membership.objects.count() == 4


def test_new_rows_go_on_after_the_restored_ones(people: People, saved: Path) -> None:
    restore(saved)
    Audit.objects.create(farm_id=people.farm.pk, what="still_works")
    Membership.objects.create(farm_id=people.dovs_farm.pk, person_id=people.ada.pk, role="family")
    assert Audit.objects.filter(what="still_works").exists()


@pytest.mark.parametrize("spoil", ["cut", "lines", "count", "html", "other"])
def test_a_spoilt_file_changes_nothing(people: People, saved: Path, spoil: str) -> None:
    lines = gzip.decompress(saved.read_bytes()).splitlines(keepends=True)
    spoilt: dict[str, Any] = {
        "cut": saved.read_bytes()[:-40],
        "lines": gzip.compress(b"".join(lines[:-1])),
        "count": gzip.compress(b"".join(lines[:3] + lines[4:])),
        "html": b"<html>",
        "other": gzip.compress(json.dumps({"format": "other"}).encode()),
    }
    saved.write_bytes(spoilt[spoil])
    with pytest.raises(BadBackup):
        restore(saved)
    assert Event.objects.count() == 3
    assert Farm.objects.get(pk=people.farm.pk).epoch == 1


def test_only_its_owner_can_read_a_backup(saved: Path) -> None:
    assert stat.S_IMODE(saved.stat().st_mode) == 0o600
    assert [path.name for path in saved.parent.iterdir() if path.name.startswith("all")] == [saved.name]


def test_the_commands_say_what_they_did(people: People, saved: Path, tmp_path: Path) -> None:
    out = StringIO()
    call_command("backup", str(tmp_path / "again.gz"), stdout=out)
    assert "3 event" in out.getvalue()
    with pytest.raises(CommandError, match="--replace-everything"):
        call_command("restore", str(saved))
    (tmp_path / "bad.gz").write_bytes(b"x")
    with pytest.raises(CommandError, match="nothing was restored"):
        call_command("restore", str(tmp_path / "bad.gz"), "--replace-everything")
    call_command("restore", str(saved), "--replace-everything", stdout=out)
    assert "Restored" in out.getvalue()
    call_command("rebuild", stdout=out)
    assert "Hill: 0 outlooks changed" in out.getvalue()
    call_command("migrate_safe", stdout=out)
    assert "Nothing to migrate." in out.getvalue()
