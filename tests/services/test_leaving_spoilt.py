"""A farm's file that was changed, cut or never one is refused in words, and nothing is written."""

from __future__ import annotations

import hashlib
import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from herd.models import Author, Event, Farm, Membership, Quarantine
from herd.models.farm import HELPER
from herd.services.leaving.pack import export
from herd.services.leaving.unpack import BadFarmFile, import_farm
from tests.logs import record
from tests.people import People, make_people
from tests.phones import Phone, new_id


@pytest.fixture
def people(transactional_db: None, quick_hashes: None) -> People:
    return make_people()


@pytest.fixture
def packed(people: People, ada: Phone, cleo: Phone, tmp_path: Path) -> Path:
    doe, plan = new_id(), {"to": "doe", "slot": "morning", "feed": "oats", "base": ""}
    record(ada, ada.record("doe", doe, {"name": "Ivy"}), ada.event("score", doe, {"x100": 325}))
    record(ada, ada.event("ration", doe, {**plan, "steps": [{"on": "2026-01-01", "g": 200}]}))
    record(cleo, cleo.event("ration", doe, {**plan, "steps": [{"on": "2026-01-02", "g": 900}]}), role=HELPER)
    export(people.farm, tmp_path / "farm.zip")
    return tmp_path / "farm.zip"


def rewritten(packed: Path, change: Any) -> None:
    with zipfile.ZipFile(packed) as zipped:
        files = {name: zipped.read(name) for name in zipped.namelist()}
    change(files)
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, content in files.items():
            zipped.writestr(name, content)


def letter(files: dict[str, bytes]) -> None:
    files["log/entries.jsonl"] = files["log/entries.jsonl"].replace(b"325", b"335", 1)


def summed_anew(files: dict[str, bytes], name: str) -> None:
    said = json.loads(files["manifest.json"])
    said["files"][name] = {"sha256": hashlib.sha256(files[name]).hexdigest(), "bytes": len(files[name])}
    files["manifest.json"] = json.dumps(said).encode()


def letter_and_sum(files: dict[str, bytes]) -> None:
    letter(files)
    summed_anew(files, "log/entries.jsonl")


def another_author(files: dict[str, bytes]) -> None:
    rows = [json.loads(line) for line in files["log/entries.jsonl"].splitlines()]
    rows[0]["author"] = new_id()
    files["log/entries.jsonl"] = b"\n".join(json.dumps(row).encode() for row in rows)
    summed_anew(files, "log/entries.jsonl")


def no_columns(files: dict[str, bytes]) -> None:
    files["log/rulings.jsonl"] = b"{}\n" * len(files["log/rulings.jsonl"].splitlines())
    summed_anew(files, "log/rulings.jsonl")


def fewer(files: dict[str, bytes]) -> None:
    files["log/entries.jsonl"] = b"".join(files["log/entries.jsonl"].splitlines(keepends=True)[:-1])
    summed_anew(files, "log/entries.jsonl")


def one_more(files: dict[str, bytes]) -> None:
    files["../../evil"] = b"x"


def newer(files: dict[str, bytes]) -> None:
    files["manifest.json"] = files["manifest.json"].replace(b'"v":1', b'"v":2', 1)


def no_zone(files: dict[str, bytes]) -> None:
    said = json.loads(files["manifest.json"])
    said["farm"]["zone"] = "Moon/Base"
    files["manifest.json"] = json.dumps(said).encode()


def lone_half(files: dict[str, bytes]) -> None:
    files["log/people.jsonl"] = files["log/people.jsonl"].replace(b"Ada", b"A\\ud800", 1)
    summed_anew(files, "log/people.jsonl")


def counts() -> list[int]:
    return [model._default_manager.count() for model in (Farm, Event, Membership, Author, Quarantine)]


SPOILT = (letter, letter_and_sum, another_author, no_columns, fewer, one_more, newer, no_zone, lone_half)


@pytest.mark.parametrize("change", SPOILT, ids=lambda change: change.__name__)
def test_a_changed_file_is_refused_in_words_and_nothing_is_written(packed: Path, people: People, change: Any) -> None:
    before = counts()
    rewritten(packed, change)
    with pytest.raises(BadFarmFile) as said:
        import_farm(packed, people.dov)
    assert str(said.value).endswith((".", "Europe/Vienna."))
    assert counts() == before


@pytest.mark.parametrize("share", [0.1, 0.5, 0.9, 0.999])
def test_a_file_that_was_cut_is_refused(packed: Path, people: People, share: float) -> None:
    before = counts()
    whole = packed.read_bytes()
    packed.write_bytes(whole[: int(len(whole) * share)])
    with pytest.raises(BadFarmFile, match="nothing was taken"):
        import_farm(packed, people.dov)
    assert counts() == before


def test_a_bomb_is_refused_before_it_is_unpacked(people: People, tmp_path: Path) -> None:
    path = tmp_path / "bomb.zip"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as zipped, zipped.open("log/entries.jsonl", "w") as out:
        for _ in range(300):
            out.write(bytes(1 << 20))
    assert path.stat().st_size < 1 << 20
    with pytest.raises(BadFarmFile, match="more than any farm holds"):
        import_farm(path, people.dov)


def test_other_files_are_no_farm(people: People, tmp_path: Path) -> None:
    path = tmp_path / "other.zip"
    with zipfile.ZipFile(path, "w") as zipped:
        zipped.writestr("hello.txt", "x")
    with pytest.raises(BadFarmFile, match="not a farm's file"):
        import_farm(path, people.dov)
    path.write_bytes(b"<html>")
    with pytest.raises(BadFarmFile):
        import_farm(path, people.dov)
    with pytest.raises(BadFarmFile, match="cannot be read"):
        import_farm(tmp_path / "nowhere.zip", people.dov)
