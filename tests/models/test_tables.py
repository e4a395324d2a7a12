from __future__ import annotations

import pytest
from django.apps import apps
from django.contrib.auth import get_user_model
from django.core.management import call_command
from django.db import IntegrityError, connection, transaction

from herd.models import Event, Farm, Folded, OutlookRow, Person
from herd.services.append import Entry

PARENTS = {"farm", "person"}


def test_the_user_model_is_ours_from_the_first_migration() -> None:
    assert get_user_model() is Person


@pytest.mark.django_db
def test_migrations_are_up_to_date() -> None:
    call_command("makemigrations", "--check", "--dry-run", verbosity=0)


def test_nothing_points_into_what_is_folded() -> None:
    for model in apps.get_app_config("herd").get_models():
        for field in model._meta.concrete_fields:
            assert field.related_model not in (Folded, OutlookRow, Event), f"{model.__name__}.{field.name}"


def test_every_index_of_a_farms_rows_starts_with_the_farm() -> None:
    """The farm is the unit of sharding. Left out: the row's own number, who a person is a member with, and what an
    invitation is found by: whoever shows its secret does not know the farm."""
    by_secret = {("Invitation", "token_sha256"), ("Invitation", "code_finds")}
    for model in apps.get_app_config("herd").get_models():
        names = {field.name for field in model._meta.concrete_fields}
        if "farm" not in names:
            continue
        indexed = [list(index.fields) for index in model._meta.indexes]
        indexed += [list(rule.fields) for rule in model._meta.constraints]
        indexed += [[field.name] for field in model._meta.concrete_fields if field.db_index and not field.primary_key]
        for fields in indexed:
            named = fields[0] == "farm" or fields == ["person"] or (model.__name__, fields[0]) in by_secret
            assert named, f"{model.__name__}: {fields}"


@pytest.mark.django_db
def test_an_id_is_used_once_on_a_farm_and_may_be_used_on_another() -> None:
    one, two = Farm.objects.create(name="A", zone="UTC"), Farm.objects.create(name="B", zone="UTC")

    def row(farm: Farm, seq: int) -> Event:
        found = {"id": "x", "kind": "doe", "v": 1, "subject": "s", "form": "doe", "on": "2026-01-01"}
        rest = {"happened_ms": 0, "hlc": "h", "raw": "{}", "sha256": "", "author": "a", "device": "d"}
        return Event(farm=farm, seq=seq, received_ms=0, **found, **rest)

    row(one, 1).save(force_insert=True)
    row(two, 1).save(force_insert=True)
    for farm, seq in ((one, 2), (one, 1)):
        with pytest.raises(IntegrityError), transaction.atomic():
            row(farm, seq).save(force_insert=True)


def test_the_plain_statement_writes_every_column() -> None:
    assert list(Entry._fields) == [field.column for field in Event._meta.concrete_fields]


@pytest.mark.django_db
def test_two_people_cannot_have_one_name() -> None:
    Person.objects.make("Ada  Hill", "wet gloves at dawn")
    with pytest.raises(IntegrityError), transaction.atomic():
        Person.objects.make("ada hill", "wet gloves at dawn")
    assert Person.objects.get_by_natural_key("ADA HILL").name == "Ada Hill"


@pytest.mark.django_db
def test_an_acknowledged_entry_survives_a_power_cut() -> None:
    """Acknowledged means on disk: SQLite syncs fully and waits its turn, PostgreSQL commits synchronously."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA synchronous")
            assert cursor.fetchone()[0] == 2
            assert connection.settings_dict["OPTIONS"]["transaction_mode"] == "IMMEDIATE"
        else:
            cursor.execute("SELECT boot_val FROM pg_settings WHERE name = 'synchronous_commit'")
            assert cursor.fetchone()[0] == "on"
