"""A farm's file by the app: in parts, with the password, taken in once, whole or not at all."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import DataError, OperationalError

from herd.models import Audit, Blob, Event, Farm, FarmFile, FilePart, Folded, Membership
from herd.services import tidy
from herd.services.leaving import arriving, unpack
from tests.people import People
from tests.phones import Phone
from tests.support.farm_file import begin, code, put, sent, take_in


@pytest.fixture
def dov(people: People) -> Phone:
    return Phone(people.farm, people.dov).sign_in()


def rows(farm_id: str) -> dict[str, list[Any]]:
    """All that is kept of a farm, but which farm it is and what the database numbers itself."""
    events = list(Event.objects.filter(farm=farm_id).order_by("seq").values())
    folded = list(Folded.objects.filter(farm=farm_id).values())
    blobs = list(Blob.objects.filter(farm=farm_id).values("sha256", "media", "size", "content"))
    for row in (*events, *folded):
        row.pop("farm_id")
        row.pop("stale", None)
    for row in folded:
        row.pop("id")
        row["subject"] = "the farm" if row["subject"] == farm_id else row["subject"]
    return {"event": events, "folded": sorted(folded, key=repr), "blob": blobs}


def test_the_farm_is_hers_and_each_row_is_as_it_was(people: People, dov: Phone, packed: bytes) -> None:
    before = rows(people.farm.pk)
    assert all(before.values())
    answer = take_in(dov, sent(dov, packed), name="Hill again")
    assert answer.status_code == 201
    made = answer.json()
    assert (made["name"], made["role"], made["zone"]) == ("Hill again", "owner", "Europe/Vienna")
    assert rows(made["id"]) == before
    assert [one.person for one in Membership.objects.filter(farm=made["id"])] == [people.dov]
    assert Audit.objects.get(farm=made["id"], what="imported").person == people.dov.pk
    assert made in dov.client.get("/api/farms").json()["farms"]
    assert not FilePart.objects.exists(), "nothing of the file is kept"


def test_several_parts_in_any_order_some_of_them_twice(
    dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(arriving, "PART_BYTES", 1000)
    file = begin(dov, len(packed)).json()["file"]
    numbers = range(-(-len(packed) // 1000))
    assert len(numbers) > 3
    for number in (*reversed(numbers), 0, 1):
        assert put(dov, file, number, packed[number * 1000 :][:1000]).json() == {"number": number}
    assert take_in(dov, file).status_code == 201


def test_what_is_no_part_of_it_is_refused_and_what_never_came_is_missed(
    dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(arriving, "PART_BYTES", 1000)
    file = begin(dov, len(packed)).json()["file"]
    for number, content in ((0, b"x" * 999), (0, b""), (0, b"x" * 1001), (len(packed) // 1000 + 1, b"x")):
        assert code(put(dov, file, number, content)) == (400, "bad_part")
    put(dov, file, 0, packed[:1000])
    assert code(take_in(dov, file)) == (409, "not_all_here")
    assert not Farm.objects.filter(came_from__gt="").exists()


def test_asked_again_it_is_the_same_farm(dov: Phone, packed: bytes) -> None:
    """The answer was lost, or somebody tapped twice."""
    file = sent(dov, packed)
    first, second = take_in(dov, file), take_in(dov, file)
    assert first.json() == second.json()
    assert Farm.objects.filter(came_from__gt="").count() == 1


def test_whoever_waited_for_the_other_one_makes_no_second(
    dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two at once: the second has read the file by when the first is done."""
    file, check, firsts = sent(dov, packed), arriving.opened, list[str]()

    def late(*said: Any) -> Any:
        if not firsts:
            firsts.append("")
            arriving._one.release()
            firsts[0] = take_in(dov, file).json()["id"]
            arriving._one.acquire()
        return check(*said)

    monkeypatch.setattr(arriving, "opened", late)
    assert take_in(dov, file).json()["id"] == firsts[0]
    assert Farm.objects.filter(came_from__gt="").count() == 1


def test_while_one_is_taken_in_another_is_told_to_wait(dov: Phone, packed: bytes) -> None:
    file = sent(dov, packed)
    with arriving._alone():
        answer = take_in(dov, file)
    assert (*code(answer), answer["Retry-After"]) == (503, "busy", "5")
    assert take_in(dov, file).status_code == 201


def test_the_password_comes_first_and_nobody_elses_file_is_found(dov: Phone, ada: Phone, packed: bytes) -> None:
    assert code(begin(dov, 5000, "not it")) == (400, "wrong_password")
    assert not FarmFile.objects.exists()
    file = sent(dov, packed)
    assert code(put(ada, file, 0, packed)) == (404, "not_found")
    assert code(take_in(ada, file)) == (404, "not_found")
    nobody = Phone(dov.farm, dov.person)
    assert [code(begin(nobody, 5)), code(put(nobody, file, 0, packed)), code(take_in(nobody, file))] == [
        (401, "sign_in")
    ] * 3


def test_wrong_passwords_count_as_at_the_other_doors(dov: Phone) -> None:
    codes = [code(begin(dov, 5000, f"no {n}"))[1] for n in range(11)]
    assert codes == ["wrong_password"] * 10 + ["busy"]


def test_so_many_a_day(dov: Phone) -> None:
    codes = [begin(dov, 5000).status_code for _ in range(11)]
    assert codes == [201] * 10 + [429]
    assert FarmFile.objects.count() == 1, "one at a time: what was half sent went"


def test_too_large_for_the_app(dov: Phone, settings: Any) -> None:
    settings.IMPORT_MB = 1
    answer = begin(dov, 1_000_001)
    assert code(answer) == (400, "farm_file_large")
    assert "up to 1 MB" in answer.json()["message"]
    assert "mangerline import" in answer.json()["message"]
    assert begin(dov, 1_000_000).status_code == 201


def test_no_room_on_the_disk(dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    file = sent(dov, packed)
    monkeypatch.setattr(arriving, "free_bytes", lambda folder: 40 * 2**20)
    assert code(begin(dov, 5_000_000)) == (503, "full")
    assert FarmFile.objects.get().pk == file, "what is here already stays"

    def full(*said: Any) -> Any:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr(unpack, "append", full)
    assert code(take_in(dov, file)) == (503, "full")
    monkeypatch.undo()
    assert take_in(dov, file).status_code == 201, "once there is room it goes on with what was sent"


def test_what_breaks_in_the_middle_leaves_nothing(dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    file, farms = sent(dov, packed), Farm.objects.count()

    def broken(farm_id: str) -> None:
        raise DataError("no such thing")

    monkeypatch.setattr(unpack, "fold_again", broken)
    assert code(take_in(dov, file)) == (400, "farm_file_changed")
    assert Farm.objects.count() == farms
    assert not FilePart.objects.exists()


def test_what_nobody_finished_goes_after_a_day(dov: Phone, packed: bytes) -> None:
    file = sent(dov, packed)
    tidy.tidy()
    assert FarmFile.objects.filter(pk=file).exists()
    FarmFile.objects.update(begun_ms=1)
    assert tidy.tidy()["farm_files"] >= 1
    assert not FilePart.objects.exists()
    assert code(take_in(dov, file)) == (404, "not_found")
