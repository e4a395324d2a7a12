"""A farm's file that is none, is cut off, was changed, was forged, or holds more than any farm: nothing comes of it."""

from __future__ import annotations

import io
import json
import struct
import zipfile
from collections.abc import Callable
from hashlib import sha256
from typing import Any

import pytest

from herd.models import Farm
from herd.services.leaving import arriving
from tests.people import People
from tests.phones import Phone
from tests.support.farm_file import code, sent, take_in

SAID = {
    "no_farm_file": "This is not a farm's file.",
    "farm_file_changed": "The file is cut off or was changed: nothing was taken from it.",
    "farm_file_bomb": "This file would unpack to more than any farm holds: nothing was taken from it.",
    "farm_file_newer": "A newer build wrote this file: update this server, then take it in.",
}


@pytest.fixture
def dov(people: People) -> Phone:
    return Phone(people.farm, people.dov).sign_in()


def edited(whole: bytes, change: Callable[[dict[str, bytes]], None], again: bool = True) -> bytes:
    """The same ZIP with other content; `again`: with digests that fit it, as whoever forges one would make them."""
    with zipfile.ZipFile(io.BytesIO(whole)) as zipped:
        files = {name: zipped.read(name) for name in zipped.namelist()}
    change(files)
    said = json.loads(files["manifest.json"])
    if again:
        said["files"] = {
            name: {"sha256": sha256(one).hexdigest(), "bytes": len(one)}
            for name, one in files.items() if name != "manifest.json"
        }  # fmt: skip
        files["manifest.json"] = json.dumps(said).encode()
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as zipped:
        for name, one in files.items():
            zipped.writestr(name, one)
    return out.getvalue()


@pytest.mark.parametrize(
    ("whole", "said"),
    [(b"a shopping list", "no_farm_file"), (b"PK\3\4 and then nothing", "farm_file_changed")],
)
def test_what_is_no_zip(dov: Phone, whole: bytes, said: str) -> None:
    answer = take_in(dov, sent(dov, whole))
    assert (*code(answer), answer.json()["message"]) == (400, said, SAID[said])


def other_format(files: dict[str, bytes]) -> None:
    files["manifest.json"] = files["manifest.json"].replace(b"mangerline-farm", b"another-farm")


def newer(files: dict[str, bytes]) -> None:
    files["manifest.json"] = files["manifest.json"].replace(b'"v":1', b'"v":2', 1)


def one_letter(files: dict[str, bytes]) -> None:
    files["log/entries.jsonl"] = files["log/entries.jsonl"].replace(b"325", b"425")


def no_manifest(files: dict[str, bytes]) -> None:
    files["manifest.json"] = b"{}"


@pytest.mark.parametrize(
    ("change", "said"),
    [(other_format, "no_farm_file"), (newer, "farm_file_newer"), (one_letter, "farm_file_changed"),
     (no_manifest, "no_farm_file")],
)  # fmt: skip
def test_what_is_not_the_whole_file_of_a_farm(
    dov: Phone, packed: bytes, change: Callable[[dict[str, bytes]], None], said: str
) -> None:
    farms = Farm.objects.count()
    answer = take_in(dov, sent(dov, edited(packed, change, again=False)))
    assert (*code(answer), answer.json()["message"]) == (400, said, SAID[said])
    assert Farm.objects.count() == farms


def test_cut_off_anywhere(dov: Phone, packed: bytes) -> None:
    for size in (len(packed) - 1, len(packed) // 2, 30):
        assert code(take_in(dov, sent(dov, packed[:size]))) == (400, "farm_file_changed")


def row_with(**other: Any) -> Callable[[dict[str, bytes]], None]:
    def change(files: dict[str, bytes]) -> None:
        first, _, rest = files["log/entries.jsonl"].partition(b"\n")
        files["log/entries.jsonl"] = json.dumps({**json.loads(first), **other}).encode() + b"\n" + rest

    return change


@pytest.mark.parametrize(
    "other",
    [{"received_ms": 2**70}, {"received_ms": float("inf")}, {"v": 2**80}, {"happened_ms": None}, {"kind": []},
     {"hlc": {"a": 1}}, {"eff": "[1"}, {"eff": "[]"}, {"eff": "7"}, {"eff": "\ud800"}, {"on": "\ud800"},
     {"eff": '{"happened":"x","on":[],"hlc":{}}'}, {"waits_for": 9}, {"form": "nothing"}, {"seq": 0}],
    ids=str,
)  # fmt: skip
def test_a_forged_row_breaks_nothing(dov: Phone, packed: bytes, other: dict[str, Any]) -> None:
    """With digests that fit: whoever makes files by hand is told no, or has a farm that opens."""
    answer = take_in(dov, sent(dov, edited(packed, row_with(**other))))
    assert code(answer) in ((400, "farm_file_changed"), (201, ""))
    if answer.status_code == 201:
        dov.farm = Farm.objects.get(pk=answer.json()["id"])
        assert dov.get("bootstrap").status_code == 200


def test_more_than_a_farm_holds(dov: Phone, packed: bytes, settings: Any) -> None:
    """Far more inside than outside."""
    settings.IMPORT_MB = 1

    def zeros(files: dict[str, bytes]) -> None:
        files["tables/doe.csv"] = bytes(6_000_000)

    assert code(take_in(dov, sent(dov, edited(packed, zeros)))) == (400, "farm_file_bomb")


def test_a_list_of_files_without_end_is_not_read(dov: Phone, packed: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    """How long the list at the end is, the file says itself."""
    monkeypatch.setattr(arriving, "MOST_FILES", 3)
    assert code(take_in(dov, sent(dov, packed))) == (400, "farm_file_bomb")
    monkeypatch.undo()
    at = packed.rindex(b"PK\5\6")
    long = packed[: at + 12] + struct.pack("<L", 2**31) + packed[at + 16 :]
    assert code(take_in(dov, sent(dov, long)))[0] == 400
