from __future__ import annotations

import json
import logging
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from herd.log import JsonLines, about
from herd.models import Audit, Event, Membership, Person
from tests.logs import record
from tests.people import People
from tests.phones import Phone, new_id


def told(command: str, *arguments: str) -> str:
    out = StringIO()
    call_command(command, *arguments, stdout=out)
    return out.getvalue()


def test_log_tells_her_story_in_order_with_who_when_and_which_phone(people: People, ada: Phone, ben: Phone) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy 🐐"}), ada.event("score", doe, {"x100": 300}))
    record(ada, ada.event("ketones", doe, {}))
    record(ben, ben.event("dried_off", doe, {}, slot="evening"))
    lines = told("log", "ivy 🐐").splitlines()
    assert [line.split()[4] for line in lines] == ["doe", "score", "ketones", "dried_off"]
    assert "parked, waits for a newer build" in lines[2]
    assert lines[3].split()[1:4] == ["evening", "#4", "Ben"]
    assert f"from {ben.device[:8]}" in lines[3]
    with pytest.raises(CommandError, match="no such doe"):
        call_command("log", "Nobody")


def test_log_shows_what_was_put_right(ada: Phone) -> None:
    ada.fast_ms = 3_600_000
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    assert "clock put right" in told("log", doe)


def test_log_asks_for_the_id_when_two_does_share_a_name(ada: Phone) -> None:
    record(ada, *(ada.record("doe", new_id(), {"name": "Ivy"}) for _ in range(2)))
    with pytest.raises(CommandError, match="give her id"):
        call_command("log", "Ivy")


def test_a_person_is_added_once_and_with_a_password_worth_the_name(people: People, monkeypatch: Any) -> None:
    monkeypatch.setattr("builtins.input", lambda: "lantern over the gate")
    assert "Effie can sign in." in told("add_person", "Effie", "--stdin", "--farm", "hill", "--role", "helper")
    member = Membership.objects.get(person__name="Effie")
    assert (member.farm, member.role) == (people.farm, "helper")
    assert Audit.objects.filter(farm=people.farm, detail=f"{member.person_id} helper").exists()
    for arguments, why in ((["EFFIE"], "already"), (["Fay", "--farm", "Nowhere"], "no such farm")):
        with pytest.raises(CommandError, match=why):
            call_command("add_person", *arguments, "--stdin")
    monkeypatch.setattr("builtins.input", lambda: "12345678")
    with pytest.raises(CommandError, match="too common"):
        call_command("add_person", "Fay", "--stdin")
    assert not Person.objects.filter(name="Fay").exists()


@pytest.mark.django_db(transaction=True)
def test_an_upgrade_saves_everything_first_and_folds_again(transactional_db: None, ada: Phone, tmp_path: Path) -> None:
    record(ada, ada.record("doe", new_id(), {"name": "Ivy"}))
    call_command("migrate", "sessions", "zero", verbosity=0)
    try:
        said = told("migrate_safe", "--to", str(tmp_path))
    finally:
        call_command("migrate", verbosity=0)
    assert len(list(tmp_path.glob("before-*.jsonl.gz"))) == 1
    assert "outlooks changed" in said
    assert "django_session" in connection.introspection.table_names()
    assert Event.objects.count() == 1


def test_a_log_line_is_json_and_names_farm_device_and_batch() -> None:
    line = logging.LogRecord("api.sync", logging.INFO, "", 0, "push", (), None)
    line.count = {"ok": 3}
    with about(farm="f", device="d"), about(batch="b"):
        found = json.loads(JsonLines().format(line))
    assert {key: found[key] for key in ("farm", "device", "batch", "message", "count")} == {
        "farm": "f",
        "device": "d",
        "batch": "b",
        "message": "push",
        "count": {"ok": 3},
    }
    assert "farm" not in json.loads(JsonLines().format(line))
