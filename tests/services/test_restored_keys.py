"""Who has a key after a restore: nobody whose key was taken since, unless somebody says so."""

from __future__ import annotations

import os
import pty
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from allauth.mfa.models import Authenticator
from django.core.management import call_command

from herd.models import Audit, Farm, Invitation, Membership, Person
from herd.models.farm import ADVISER, FAMILY, HELPER
from herd.services.backup import backup
from herd.services.erase import erase_farm, erase_person
from herd.services.invitations import NoInvitation, Place, accept, find, invite, revoke
from herd.services.make_farm import add_member, make_farm
from herd.services.members import remove
from herd.services.recovery import new_recovery_code, recover
from herd.services.restore import restore
from tests.people import PASSWORD, ZONE, People, make_people


@pytest.fixture
def people(transactional_db: None, quick_hashes: None) -> People:
    return make_people()


@pytest.fixture
def saved(people: People, tmp_path: Path) -> Path:
    backup(tmp_path / "all.jsonl.gz")
    return tmp_path / "all.jsonl.gz"


def on(farm: Farm) -> dict[str, str]:
    return {one.person.name: one.role for one in Membership.objects.filter(farm_id=farm.pk)}


def test_who_was_taken_off_since_stays_off(people: People, saved: Path) -> None:
    Membership.objects.filter(person=people.cleo).delete()
    restore(saved)
    assert on(people.farm) == {"Ada": "owner", "Ben": "family"}
    assert Audit.objects.filter(farm_id=people.farm.pk, what="kept_removed", detail__contains=people.cleo.pk).exists()


def test_who_was_removed_since_keeps_her_name_beside_what_she_recorded(people: People, saved: Path) -> None:
    remove(people.farm, people.cleo.pk, people.ada)
    before = Membership.everyone.get(person=people.cleo)
    restore(saved)
    after = Membership.everyone.get(person=people.cleo)
    assert (after.gone_at, after.gone_why) == (before.gone_at, "removed")


def test_who_was_gone_by_then_already_is_no_news(people: People, tmp_path: Path) -> None:
    remove(people.farm, people.cleo.pk, people.ada)
    backup(tmp_path / "later.jsonl.gz")
    out = StringIO()
    call_command("restore", str(tmp_path / "later.jsonl.gz"), "--replace-everything", stdout=out)
    assert "Cleo" not in out.getvalue()
    assert not Audit.objects.filter(what="kept_removed").exists()
    assert Membership.everyone.get(person=people.cleo).gone_why == "removed"


def test_codes_passkeys_and_invitations_that_were_good_then_open_nothing(people: People, tmp_path: Path) -> None:
    code = new_recovery_code(people.ada)
    Authenticator.objects.create(user=people.ada, type="webauthn", data={"name": "lost"})
    Authenticator.objects.create(user=people.ada, type="webauthn", data={"name": "kept"})
    revoked, token = invite(people.farm, Place("helper"), people.ada)
    _, still_open = invite(people.farm, Place("helper"), people.ada)
    backup(tmp_path / "then.jsonl.gz")
    new_recovery_code(people.ada)
    Authenticator.objects.filter(data__name="lost").delete()
    revoke(people.farm, revoked.pk, people.ada)
    restore(tmp_path / "then.jsonl.gz")
    assert recover("Ada", code, PASSWORD) is None
    assert [one.data["name"] for one in Authenticator.objects.all()] == ["kept"]
    with pytest.raises(NoInvitation):
        find(token)
    assert find(still_open).role == HELPER
    assert Invitation.objects.count() == 2


def test_who_is_named_is_let_back(people: People, saved: Path) -> None:
    Membership.objects.filter(person__in=[people.cleo, people.ben]).delete()
    out = StringIO()
    call_command("restore", str(saved), "--replace-everything", "--let-back", "cleo", stdout=out)
    assert on(people.farm) == {"Ada": "owner", "Cleo": "helper"}
    assert "Cleo, helper of Hill in the backup, is no longer on that farm" in out.getvalue()


@contextmanager
def at_a_terminal(monkeypatch: pytest.MonkeyPatch, *answers: str) -> Iterator[None]:
    """Somebody sits at it and has typed ahead."""
    try:
        hers, its = pty.openpty()
    except OSError as lacking:
        pytest.skip(f"no terminal can be opened here: {lacking}")
    os.write(hers, "".join(f"{answer}\n" for answer in answers).encode())
    with os.fdopen(its) as stdin, monkeypatch.context() as sitting:
        sitting.setattr(sys, "stdin", stdin)
        yield
    os.close(hers)


@pytest.mark.parametrize(
    ("answers", "back"),
    [(("y", "n"), "Cleo"), (("", "YES"), "Ben"), (("no", "yes please"), ""), (("y", "y"), "Ben Cleo")],
)
def test_at_a_terminal_each_is_asked_about(
    people: People,
    saved: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    answers: tuple[str, ...],
    back: str,
) -> None:
    remove(people.farm, people.cleo.pk, people.ada)
    Membership.objects.filter(person=people.ben).update(role=HELPER)
    with at_a_terminal(monkeypatch, *answers):
        call_command("restore", str(saved), "--replace-everything")
    asked = re.findall(r"Give (\w+) back what the backup says\? \[y/N\] ", capsys.readouterr().out)
    # Whoever is off the farm comes first.
    assert asked == ["Cleo", "Ben"]
    kept = {"Ada": "owner", "Ben": "family" if "Ben" in back else "helper"}
    assert on(people.farm) == kept | ({"Cleo": "helper"} if "Cleo" in back else {})


def test_who_was_named_or_only_listed_is_not_asked_about(
    people: People, saved: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    remove(people.farm, people.cleo.pk, people.ada)
    with at_a_terminal(monkeypatch):
        call_command("restore", str(saved), "--list")
        assert on(people.farm) == {"Ada": "owner", "Ben": "family"}
        call_command("restore", str(saved), "--replace-everything", "--let-back", "Cleo")
    assert "Give" not in capsys.readouterr().out
    assert on(people.farm) == {"Ada": "owner", "Ben": "family", "Cleo": "helper"}


def test_a_lower_role_stays_and_a_higher_one_does_not_come_by_itself(people: People, saved: Path) -> None:
    Membership.objects.filter(person=people.ben).update(role=HELPER)
    Membership.objects.filter(person=people.cleo).update(role=FAMILY)
    restore(saved)
    assert on(people.farm) == {"Ada": "owner", "Ben": "helper", "Cleo": "helper"}


SOON, LATER = date(2099, 12, 2), date(2100, 1, 15)
# As the backup has it, as it is today, what comes back, and what is said of it.
PLACES = [
    ({}, {"ends_on": SOON, "pack": "p"}, {"ends_on": SOON, "pack": "p"},
     "Cleo, helper of Hill in the backup, is helper until 2099-12-02 by now, and stays so."),
    ({}, {"starts_on": SOON, "ends_on": LATER}, {"starts_on": SOON, "ends_on": LATER},
     "Cleo, helper of Hill in the backup, is helper from 2099-12-02 until 2100-01-15 by now, and stays so."),
    ({"ends_on": LATER}, {"ends_on": SOON}, {"ends_on": SOON},
     "Cleo, helper of Hill until 2100-01-15 in the backup, is helper until 2099-12-02 by now, and stays so."),
    ({"role": ADVISER, "does": ["a", "b", "c"], "ends_on": SOON}, {"role": ADVISER, "does": ["a"], "ends_on": SOON},
     {"role": ADVISER, "does": ["a"], "ends_on": SOON},
     "Cleo, adviser of Hill for 3 does until 2099-12-02 in the backup, is adviser for 1 doe until 2099-12-02 by now,"),
    ({"role": ADVISER, "does": ["a"], "ends_on": SOON}, {"role": ADVISER, "does": ["b"], "ends_on": LATER},
     {"role": ADVISER, "does": ["b"], "ends_on": LATER}, "is adviser for 1 doe until 2100-01-15 by now, and stays so."),
    ({"role": FAMILY}, {"ends_on": SOON}, {"ends_on": SOON},
     "Cleo, family of Hill in the backup, is helper until 2099-12-02 by now, and stays so."),
    ({"role": ADVISER, "does": ["a"], "ends_on": LATER}, {"ends_on": SOON},
     {"role": ADVISER, "does": ["a"], "ends_on": SOON},
     "is helper until 2099-12-02 by now, and comes back as adviser for 1 doe until 2099-12-02."),
    # What is narrower in the backup is what comes back.
    ({"ends_on": SOON}, {}, {"ends_on": SOON}, ""),
    ({"role": ADVISER, "does": ["a"], "ends_on": SOON}, {"role": ADVISER, "does": ["a", "b"], "ends_on": LATER},
     {"role": ADVISER, "does": ["a"], "ends_on": SOON}, ""),
    ({"ends_on": SOON}, {"role": FAMILY}, {"ends_on": SOON}, ""),
    ({"ends_on": SOON, "pack": "p"}, {"ends_on": SOON, "pack": "p"}, {"ends_on": SOON, "pack": "p"}, ""),
]  # fmt: skip
PLAIN = {"role": HELPER, "starts_on": None, "ends_on": None, "does": [], "pack": ""}


@pytest.mark.parametrize(("then", "today", "after", "said"), PLACES)
def test_no_place_comes_back_wider_than_it_is_today(
    people: People, tmp_path: Path, then: dict[str, Any], today: dict[str, Any], after: dict[str, Any], said: str
) -> None:
    cleos = Membership.objects.filter(person=people.cleo)
    cleos.update(**{**PLAIN, **then})
    backup(tmp_path / "then.jsonl.gz")
    cleos.update(**{**PLAIN, **today})
    out = StringIO()
    call_command("restore", str(tmp_path / "then.jsonl.gz"), "--list", stdout=out)
    assert said in out.getvalue()
    assert bool(said) == ("Cleo" in out.getvalue())
    restore(tmp_path / "then.jsonl.gz")
    assert cleos.values(*PLAIN).get() == {**PLAIN, **after}
    restore(tmp_path / "then.jsonl.gz", ["Cleo"])
    assert not said or cleos.values(*PLAIN).get() == {**PLAIN, **then}


def test_who_was_removed_and_invited_again_for_some_days_is_here_for_those(people: People, saved: Path) -> None:
    remove(people.farm, people.cleo.pk, people.ada)
    _, token = invite(people.farm, Place(HELPER, ends_on=SOON), people.ada)
    accept(find(token), people.cleo)
    restore(saved)
    assert Membership.objects.get(person=people.cleo).ends_on == SOON


def test_a_password_changed_since_stays_changed(people: People, saved: Path) -> None:
    ada = Person.objects.get(pk=people.ada.pk)
    ada.set_password("another one altogether")
    ada.save()
    Person.objects.filter(pk=people.ben.pk).update(is_active=False)
    restore(saved)
    assert Person.objects.get(pk=ada.pk).check_password("another one altogether")
    assert not Person.objects.get(pk=people.ben.pk).is_active


def test_what_was_erased_since_is_erased_again(people: People, saved: Path) -> None:
    erase_person(people.cleo)
    erase_farm(people.dovs_farm)
    restore(saved)
    assert not Person.objects.filter(name="Cleo").exists()
    assert list(Farm.objects.values_list("name", flat=True)) == ["Hill"]


def test_whom_an_invitation_was_for_does_not_come_back(people: People, tmp_path: Path) -> None:
    row, token = invite(people.farm, Place(HELPER, whom="Fay of the mill"), people.ada)
    backup(tmp_path / "open.jsonl.gz")
    fay = Person.objects.make("Fay", PASSWORD)
    accept(find(token), fay)
    erase_person(fay)
    restore(tmp_path / "open.jsonl.gz")
    assert Invitation.objects.get(pk=row.pk).whom == ""


def test_on_a_new_machine_everybody_in_the_backup_has_a_key_and_it_is_said(people: People, saved: Path) -> None:
    Farm.objects.all().delete()
    Person.objects.all().delete()
    out = StringIO()
    call_command("restore", str(saved), "--replace-everything", stdout=out)
    assert "knows none of these farms" in out.getvalue()
    assert on(people.farm) == {"Ada": "owner", "Ben": "family", "Cleo": "helper"}
    assert Person.objects.get(name="Ada").check_password(PASSWORD)


def test_newcomers_are_named_and_nothing_happens_on_a_mere_list(people: People, saved: Path) -> None:
    add_member(people.farm, people.dov, HELPER, by=people.ada)
    later = make_farm("Later", ZONE, people.dov)
    out = StringIO()
    call_command("restore", str(saved), "--list", stdout=out)
    assert "Not in the backup, and to be invited again: Dov, helper." in out.getvalue()
    assert Farm.objects.filter(pk=later.pk).exists()


def test_times_come_back_as_they_were(people: People, tmp_path: Path) -> None:
    Membership.objects.update(since_at="2020-01-02T03:04:05Z")
    Audit.objects.update(at="2020-01-02T03:04:05Z")
    backup(tmp_path / "old.jsonl.gz")
    restore(tmp_path / "old.jsonl.gz")
    assert {one.since_at.year for one in Membership.objects.all()} == {2020}
    assert {one.at.year for one in Audit.objects.exclude(what="restored")} == {2020}
