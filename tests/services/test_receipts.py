"""After a restore a phone offers again what the backup lacks: it is believed for what it can show, and no further."""

from __future__ import annotations

import base64
import json
from pathlib import Path
from typing import Any

import pytest
from django.utils.crypto import salted_hmac

from herd.models import Event, Farm, Membership
from herd.models.farm import ADVISER, FAMILY, HELPER
from herd.services.backup import backup
from herd.services.changes import Cursor, changes
from herd.services.clock import TRUSTED_MS
from herd.services.receipts import SALT, SIGNED_BYTES
from herd.services.restore import restore
from tests.logs import record
from tests.people import People
from tests.phones import Phone, new_id, now_ms

YEAR = 365 * 24 * 3_600_000
TREATMENT = {
    "product": "wormer",
    "told": "",
    "why": "",
    "who": "vet",
    "milk_until": "2026-12-31",
    "meat_until": "2026-12-31",
    "carries": [],
}
EARLIER = {"happened": 1_000_000_000_000, "on": "2001-09-09", "hlc": "00e8d4a51000-0000-aaaaaaaa"}
# On PostgreSQL a backup sets how its transaction reads, which it can only do at the start of one.
pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def saved(people: People, tmp_path: Path) -> Path:
    backup(tmp_path / "all.jsonl.gz")
    return tmp_path / "all.jsonl.gz"


def shown(answer: dict[str, Any]) -> dict[str, Any]:
    """What a phone keeps of an answer, and offers after a restore."""
    return {answer["id"]: {"receipt": answer["receipt"], "eff": answer["eff"]}}


def rules(phone: Phone) -> dict[str, Any]:
    return phone.record("rules", phone.farm.id, {"level_pm": 90})


@pytest.mark.parametrize(
    "before", [0, None, "", [], {}, {"hlc": "x"}, {"receipt": 5}, {"receipt": "o"}, {"receipt": "", "eff": []}, EARLIER]
)
def test_what_proves_nothing_opens_no_door(ada: Phone, cleo: Phone, before: Any) -> None:
    doe = new_id()
    record(ada, ada.record("doe", doe, {"name": "Ivy"}))
    entry, look = rules(cleo), cleo.event("udder", doe, {"fill": 2, "uneven": False})
    answers = record(cleo, entry, look, role=HELPER, before={entry["id"]: before, look["id"]: before})
    assert [(one["st"], one["eff"]) for one in answers] == [("rejected", None), ("ok", None)]
    assert Event.objects.get(id=look["id"]).happened_ms == look["happened"]


def test_one_given_by_an_earlier_server_is_good(ada: Phone, settings: Any) -> None:
    """Those that phones hold were made by Django's own function."""
    entry = ada.record("doe", new_id(), {"name": "Ivy"})
    [answer] = record(ada, entry)
    row = Event.objects.get(id=entry["id"])
    text = "\n".join((row.farm_id, row.id, row.sha256, row.author, row.role, row.eff))
    made = salted_hmac(SALT, text, secret=settings.SECRET_KEY, algorithm="sha256").digest()[:SIGNED_BYTES]
    assert answer["receipt"] == "o" + base64.urlsafe_b64encode(made).decode().rstrip("=")


def test_what_was_taken_is_taken_again_as_it_was(people: People, ada: Phone, saved: Path) -> None:
    """Her clock is right by now, and she helps only: neither changes what she once recorded."""
    ada.fast_ms = YEAR
    entries = [ada.record("doe", new_id(), {"name": "Ivy"}), rules(ada)]
    first = record(ada, *entries)
    restore(saved)
    ada.fast_ms = 0
    before = shown(first[0]) | shown(first[1])
    again = record(ada, *entries, role=HELPER, before=before)
    assert [(one["st"], one["eff"], one["receipt"]) for one in again] == [
        ("ok", one["eff"], one["receipt"]) for one in first
    ]
    assert first[0]["eff"]["hlc"] < first[1]["eff"]["hlc"]


def test_without_a_receipt_it_is_judged_like_a_new_one_and_not_refused_for_that(ada: Phone, saved: Path) -> None:
    entry = rules(ada)
    record(ada, entry)
    restore(saved)
    assert record(ada, entry)[0]["st"] == "ok"
    assert record(ada, rules(ada), role=HELPER)[0]["code"] == "not_allowed"


@pytest.mark.parametrize("spoilt", ["eff", "id", "bytes", "role", "farm", "cut", "longer"])
def test_a_receipt_is_for_one_entry_of_one_farm_with_one_set_of_times(
    people: People, ada: Phone, cleo: Phone, saved: Path, spoilt: str
) -> None:
    doe = new_id()
    cleo.fast_ms = YEAR
    look = cleo.event("udder", doe, {"fill": 2, "uneven": False})
    proof = shown(record(cleo, look, role=HELPER)[0])[look["id"]]
    farm, entry = people.farm, rules(cleo)
    if spoilt == "farm":
        farm = people.dovs_farm
        Membership.objects.create(farm=farm, person=people.cleo, role=HELPER)
    phone = Phone(farm, people.cleo, device=cleo.device)
    restore(saved)
    if spoilt in ("id", "bytes"):
        entry = {**entry, "id": look["id"]} if spoilt == "bytes" else entry
        answer = record(phone, entry, role=HELPER, before={entry["id"]: proof})[0]
        assert answer["code"] == "not_allowed"
        return
    wrong = {
        "eff": {**proof, "eff": {**proof["eff"], "hlc": EARLIER["hlc"]}},
        "role": {**proof, "receipt": "o" + proof["receipt"][1:]},
        "farm": proof,
        "cut": {**proof, "receipt": proof["receipt"][:-1]},
        "longer": {**proof, "receipt": proof["receipt"] + "A"},
    }[spoilt]
    answer = record(phone, look, role=HELPER, before={look["id"]: wrong})[0]
    # A year ahead, from a phone whose clock is right by now: nobody knows when it was.
    assert (answer["st"], answer["eff"]["odd"]) == ("parked", 1)


def test_a_receipt_stays_good_when_the_key_is_changed_and_the_old_one_named(
    ada: Phone, saved: Path, settings: Any
) -> None:
    entry = rules(ada)
    before = shown(record(ada, entry)[0])
    old = settings.SECRET_KEY
    for fallbacks, expected in (([old], "ok"), ([], "rejected")):
        restore(saved)
        settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = "another", fallbacks
        assert record(ada, entry, role=HELPER, before=before)[0]["st"] == expected


def test_a_receipt_for_a_void_that_came_too_early_does_not_say_that_it_was_allowed(
    people: People, ada: Phone, cleo: Phone, saved: Path
) -> None:
    doe, treated = new_id(), ada.event("treatment", new_id(), TREATMENT)
    treated["subject"] = doe
    void = cleo.event("void", doe, {"of": treated["id"]})
    early = record(cleo, void, role=HELPER)[0]
    assert early["st"] == "parked"
    restore(saved)
    record(ada, ada.record("doe", doe, {"name": "Ivy"}), treated)
    # Now family; as what she was taken then is what counts.
    assert record(cleo, void, role=FAMILY, before=shown(early))[0]["code"] == "not_allowed"


def test_who_may_only_read_by_now_gives_back_what_she_recorded_before(cleo: Phone, saved: Path) -> None:
    entry, late = cleo.event("note", new_id(), {"text": "limps"}), cleo.event("note", new_id(), {"text": "new"})
    before = shown(record(cleo, entry, role=HELPER)[0])
    restore(saved)
    assert [one["st"] for one in record(cleo, entry, late, role=ADVISER, before=before)] == ["ok", "rejected"]


def test_a_stamp_given_by_a_clock_that_ran_ahead_is_given_anew(ada: Phone, saved: Path) -> None:
    now = now_ms()
    entry = ada.record("doe", new_id(), {"name": "Ivy"})
    entry["hlc"] = f"{now + YEAR:012x}-0000-{ada.device[:8]}"
    first = record(ada, entry, now=now + YEAR)[0]
    restore(saved)
    again = record(ada, entry, now=now, before=shown(first))[0]
    assert int(again["eff"]["hlc"][:12], 16) <= now + TRUSTED_MS


def test_the_receipt_comes_with_each_fetch_to_whoever_recorded_it_and_to_nobody_else(
    people: People, ada: Phone, ben: Phone
) -> None:
    answers = record(ada, ada.record("doe", new_id(), {"name": "Ivy"}))
    record(ben, ben.record("doe", new_id(), {"name": "Elm"}))
    farm = Farm.objects.get(pk=people.farm.pk)
    hers = changes(farm, Cursor(), reader=people.ada.pk)["events"]
    assert [one.get("receipt") for one in hers] == [answers[0]["receipt"], None]
    again = record(ada, json.loads(Event.objects.get(farm=farm, seq=1).raw))[0]
    assert (again["st"], again["receipt"]) == ("dup", answers[0]["receipt"])
    assert len(answers[0]["receipt"]) == 23
