"""A farm leaves as one file, and comes again as the same farm."""

from __future__ import annotations

import csv
import io
import json
import os
import stat
import zipfile
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command

from herd.models import Author, Blob, Event, Farm, Folded, Membership, Person, Quarantine, Ruling
from herd.models.farm import HELPER
from herd.services.erase import erase_person
from herd.services.leaving.pack import export
from herd.services.leaving.unpack import import_farm
from herd.services.media import keep
from tests.helping import TREATED, helped
from tests.logs import folded, record, replayed
from tests.people import People, make_people
from tests.phones import Phone, new_id
from tests.support.media import jpeg, mark, wave

MEDIA = [jpeg(grain=bytes(range(256)) * 40), wave()]


@pytest.fixture
def people(transactional_db: None, quick_hashes: None) -> People:
    return make_people()


def tables(farm: Farm) -> dict[str, list[Any]]:
    """All that is kept of a farm, but which farm it is."""
    found: dict[str, list[Any]] = {}
    for model in (Event, Ruling, Quarantine, Folded):
        rows = list(model._default_manager.filter(farm=farm).values())
        for row in rows:
            del row["farm_id"]
            if model is not Event:
                del row["id"]
            row.pop("stale", None)
            if row.get("subject") == farm.pk and model is Folded:
                row["subject"] = "the farm itself"
        found[model.__name__] = sorted(rows, key=repr)
    media = Blob.objects.filter(farm=farm).order_by("sha256").values_list("sha256", "media", "size", "content")
    found["Blob"] = [(*row, bytes(content)) for *row, content in media]
    return found


@pytest.fixture
def barn(people: People, ada: Phone, cleo: Phone) -> str:
    """A doe, what two people wrote of her, what was taken back, corrected, refused, parked and not to be read."""
    doe, plan = new_id(), {"to": "doe", "slot": "morning", "feed": "oats", "base": ""}
    record(ada, ada.record("doe", doe, {"name": "=Ivy", "order": 1, "mature_kg": 40}))
    wrong = ada.event("score", doe, {"x100": 225})
    right = ada.event("score", doe, {"x100": 325})
    record(ada, wrong, right, ada.event("void", doe, {"of": wrong["id"]}))
    weight = ada.event("weight", doe, {"g": 41500, "how": "scale", "girth_mm": 0, "length_mm": 0})
    record(ada, weight)
    record(ada, ada.event("correct", doe, {"of": weight["id"], "data": {**weight["data"], "g": 42500}}))
    helped(cleo, cleo.event("treatment", doe, {**TREATED, "told": '@SUM(1)+"x"'}))
    record(ada, ada.event("ration", doe, {**plan, "steps": [{"on": "2026-01-01", "g": 200}]}))
    raised = cleo.event("ration", doe, {**plan, "steps": [{"on": "2026-01-02", "g": 900}]})
    assert helped(cleo, raised)[0]["st"] in ("rejected", "ok")
    record(ada, ada.event("score", doe, {"x100": 9}), ada.event("newer_kind", doe, {"any": [1]}))
    record(ada, ada.event("score", new_id(), {"x100": 300}))
    record(ada, ada.event("fed", doe, {"adds": False, "lines": [{"to": doe, "feed": "oats", "g": 200}] * 2}))
    for content in MEDIA:
        keep(people.farm.id, people.ada.pk, mark(content), content)
    return doe


@pytest.fixture
def packed(barn: str, people: People, tmp_path: Path) -> Path:
    export(people.farm, tmp_path / "farm.zip")
    return tmp_path / "farm.zip"


def sheet(path: Path, kind: str) -> list[dict[str, str]]:
    text = zipfile.ZipFile(path).read(f"tables/{kind}.csv").decode("utf-8-sig")
    return list(csv.DictReader(io.StringIO(text)))


def test_a_farm_comes_again_as_it_was(packed: Path, people: People) -> None:
    own = import_farm(packed, people.dov, "Again")
    before, after = tables(people.farm), tables(own)
    for name in before:
        assert before[name], f"nothing in {name}: the test says nothing of it"
        assert after[name] == before[name], name
    assert sorted(content for *_, content in after["Blob"]) == sorted(MEDIA)
    assert own.name == "Again"
    assert own.seq == Farm.objects.get(pk=people.farm.pk).seq
    assert [one.person for one in Membership.objects.filter(farm=own)] == [people.dov]


@pytest.mark.slow
def test_the_demo_farm_comes_again_as_it_was(transactional_db: None, tmp_path: Path, settings: Any) -> None:
    settings.DATA_DIR = tmp_path
    call_command("make_demo", stdout=StringIO())
    farm = Farm.objects.order_by("-seq")[0]
    export(farm, tmp_path / "farm.zip")
    owner = Person.objects.make("Elsewhere", "a long enough one")
    own = import_farm(tmp_path / "farm.zip", owner)
    assert Event.objects.filter(farm=own).count() > 1000
    before, after = tables(farm), tables(own)
    assert after["Event"] == before["Event"]
    assert after["Folded"] == before["Folded"]
    assert after["Ruling"] == before["Ruling"]


def test_herd_rules_of_before_hold_with_those_set_since(
    packed: Path, people: People, ada: Phone, tmp_path: Path
) -> None:
    record(ada, ada.record("rules", people.farm.pk, {"units": "metric"}))
    wrong = ada.record("rules", people.farm.pk, {"preg_days_mini": 146})
    record(ada, wrong)
    export(people.farm, tmp_path / "once.zip")
    once = import_farm(tmp_path / "once.zip", people.dov)
    export(once, tmp_path / "twice.zip")
    twice = import_farm(tmp_path / "twice.zip", people.dov)
    dov = Phone(twice, people.dov)
    record(dov, dov.record("rules", twice.pk, {"preg_days_standard": 151}))
    held = folded(twice)[twice.pk, "rules"]["f"]
    assert held == {"units": "metric", "preg_days_mini": 146, "preg_days_standard": 151}
    record(dov, dov.event("void", people.farm.pk, {"of": wrong["id"]}))
    assert folded(twice)[twice.pk, "rules"]["f"] == {"units": "metric", "preg_days_standard": 151}


def test_others_come_as_names_that_open_no_door(packed: Path, people: People) -> None:
    Membership.objects.filter(person=people.cleo).delete()
    own = import_farm(packed, people.dov)
    assert {one.name: one.role for one in Author.objects.filter(farm=own)} == {
        "Ada": "owner",
        "Ben": "family",
        "Cleo": "helper",
    }
    dov = Phone(own, people.dov).sign_in()
    said = {one["name"]: one["role"] for one in dov.get("changes").json()["people"]}
    assert said == {"Dov": "owner", "Ada": "", "Ben": "", "Cleo": ""}
    assert Phone(own, people.ada).sign_in().get("changes").status_code == 404


def test_a_phone_of_the_new_farm_goes_on_where_the_log_ends(packed: Path, people: People) -> None:
    own = import_farm(packed, people.dov)
    dov = Phone(own, people.dov).sign_in()
    assert dov.get("bootstrap").json()["seq"] == own.seq
    assert dov.push(dov.record("doe", new_id(), {"name": "Elm"}))[0]["seq"] == own.seq + 1


def test_the_tables_can_be_read_by_a_person(packed: Path, barn: str) -> None:
    scores = sheet(packed, "score")
    assert [row["State"] for row in scores] == ["taken back", "counts", "waits"]
    assert [row["The score"] for row in scores] == ["2.25", "3.25", "3.00"]
    assert {row["By"] for row in scores} == {"Ada"}
    [weight] = sheet(packed, "weight")
    assert (weight["Grams"], weight["State"]) == ("42500", "counts, corrected")
    assert "Heart girth (mm)" in weight
    assert [row["Grams"] for row in sheet(packed, "fed")] == ["200", "200"]
    assert {row["Name"] for row in sheet(packed, "people")} == {"Ada", "Ben", "Cleo"}


def test_no_cell_begins_as_a_formula_does(packed: Path) -> None:
    seen = 0
    with zipfile.ZipFile(packed) as zipped:
        for name in zipped.namelist():
            if name.startswith("tables/"):
                for row in csv.reader(io.StringIO(zipped.read(name).decode("utf-8-sig"))):
                    seen += len(row)
                    assert not [cell for cell in row if cell.startswith(("=", "+", "@", "\t", "\r"))], name
    assert seen > 100
    assert sheet(packed, "doe")[0]["About"] == "'=Ivy"
    assert sheet(packed, "treatment")[0]["What the label or the vet said"].startswith("'@SUM")


def test_texts_are_in_the_log_to_the_byte(packed: Path, people: People) -> None:
    lines = zipfile.ZipFile(packed).read("log/entries.jsonl").decode().splitlines()
    assert [json.loads(line)["raw"] for line in lines] == list(
        Event.objects.filter(farm=people.farm).order_by("seq").values_list("raw", flat=True)
    )


def test_no_password_and_nothing_of_another_farm_is_in_it(packed: Path, people: People) -> None:
    whole = b"".join(zipfile.ZipFile(packed).read(name) for name in zipfile.ZipFile(packed).namelist())
    for person in Person.objects.all():
        assert person.password.encode() not in whole
    assert people.dov.pk.encode() not in whole
    assert people.dovs_farm.pk.encode() not in whole
    assert stat.S_IMODE(os.stat(packed).st_mode) == 0o600
    assert [path.name for path in packed.parent.iterdir()] == ["farm.zip"]


def test_a_name_that_was_erased_is_in_no_file_and_comes_with_none(packed: Path, people: People, tmp_path: Path) -> None:
    cleo = people.cleo.pk
    erase_person(people.cleo)
    export(people.farm, tmp_path / "later.zip")
    with zipfile.ZipFile(tmp_path / "later.zip") as zipped:
        assert b"Cleo" not in b"".join(zipped.read(name) for name in zipped.namelist())
    own = import_farm(packed, people.dov)
    assert "Cleo" not in Author.objects.filter(farm=own).values_list("name", flat=True)
    assert replayed(own, author=cleo)


def test_the_commands(people: People, barn: str, tmp_path: Path) -> None:
    out = StringIO()
    path = tmp_path / "farm.zip"
    call_command("export", "Hill", str(path), stdout=out)
    with pytest.raises(CommandError, match="Nobody of that name"):
        call_command("import", str(path), "--owner", "Nobody")
    call_command("import", str(path), "--owner", "dov", "--name", "Hill two", stdout=out)
    assert "Hill two" in out.getvalue()
    with pytest.raises(CommandError, match="--for-good"):
        call_command("erase", "farm", "Hill two")
    call_command("erase", "farm", "Hill two", "--for-good", stdout=out)
    assert not Farm.objects.filter(name="Hill two").exists()
    with pytest.raises(CommandError, match="only owner of Hill"):
        call_command("erase", "person", "Ada", "--for-good")
    call_command("erase", "person", "cleo", "--for-good", stdout=out)
    assert not Membership.objects.filter(role=HELPER).exists()
