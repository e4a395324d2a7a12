"""The ZIP of a farm as it is read: every file is what the manifest says, every row is one of ours."""

from __future__ import annotations

import json
import re
import zlib
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import IO, Any, cast
from zipfile import BadZipFile, ZipFile

from django.core.exceptions import ValidationError

from herd.models import Event
from herd.models.event import OK, PARKED, REFUSED
from herd.models.farm import ROLES
from herd.services.names import BadName, plain_name
from herd.services.restore import model_row
from herd.services.wire import as_object, digest
from herd.state.envelope import MOST_BYTES

from .pack import MANIFEST, PEOPLE
from .parts import FORMAT, LINES, VERSION

MOST_RATIO, SMALL = 200, 50 * 2**20
# A row is an entry, its columns beside it; a refused one may have been longer than an entry may be.
MOST_LINE = 16 * MOST_BYTES
PUT_RIGHT: dict[str, type] = {"happened": int, "on": str, "hlc": str, "odd": int}
# Every ZIP, and so what is left of one that was cut off.
BEGINS = b"PK"
# What one of its files takes in the manifest, and in the list at the end of the ZIP, names and all.
IN_MANIFEST, IN_LIST = 640, 200
ID = re.compile(r"[0-9a-zA-Z_-]{1,36}")
IDS = re.compile(r"[0-9a-zA-Z_,-]{0,360}")
CLOCK = re.compile(r"[0-9a-f-]{1,30}")


class BadFarmFile(ValueError):
    """Not the whole file of a farm. Nothing was written."""

    def __init__(self, code: str, why: str) -> None:
        super().__init__(why)
        self.code = code


NOT_OURS = ("no_farm_file", "This is not a farm's file.")
TOO_LARGE = ("farm_file_bomb", "This file would unpack to more than any farm holds: nothing was taken from it.")
CHANGED = ("farm_file_changed", "The file is cut off or was changed: nothing was taken from it.")
NEWER = ("farm_file_newer", "A newer build wrote this file: update this server, then take it in.")


@dataclass(frozen=True, slots=True)
class Most:
    """How much is unpacked. Every number in a ZIP is its maker's word."""

    files: int = 100_000
    unpacked: int = 20 * 2**30


class Wary:
    """The list of files at a ZIP's end is read in one piece, as long as the ZIP says it is."""

    def __init__(self, file: IO[bytes], most: int) -> None:
        self.file, self.most = file, most

    def read(self, size: int = -1) -> bytes:
        if size > self.most:
            raise BadFarmFile(*TOO_LARGE)
        return self.file.read(size)

    def __getattr__(self, name: str) -> Any:
        return getattr(self.file, name)


@contextmanager
def opened(file: Path | IO[bytes], most: Most | None = None) -> Iterator[Opened]:
    most = most or Most()
    with ExitStack() as stack:
        with _readable():
            plain = stack.enter_context(file.open("rb")) if isinstance(file, Path) else file
            if plain.read(2) != BEGINS:
                raise BadFarmFile(*NOT_OURS)
            plain.seek(0)
            wary = cast(IO[bytes], Wary(plain, most.files * IN_LIST))
            found = Opened(stack.enter_context(ZipFile(wary)), most)
        yield found


@contextmanager
def _readable() -> Iterator[None]:
    """All that zipfile makes of a spoilt file. Not around what is done with one: a fault of ours is no fault of it."""
    try:
        yield
    except (BadZipFile, EOFError, zlib.error, NotImplementedError, RuntimeError, UnicodeError, OverflowError) as error:
        raise BadFarmFile(*CHANGED) from error
    except OSError as error:
        raise BadFarmFile("unreadable", f"The file cannot be read: {error.strerror or error}") from error


class Opened:
    def __init__(self, zipped: ZipFile, most: Most) -> None:
        self.zipped = zipped
        infos = zipped.infolist()
        self.sizes = {info.filename: info.file_size for info in infos}
        whole, packed = sum(self.sizes.values()), sum(info.compress_size for info in infos)
        if len(infos) > most.files or whole > most.unpacked or (whole > SMALL and whole > MOST_RATIO * packed):
            raise BadFarmFile(*TOO_LARGE)
        manifest = most.files * IN_MANIFEST
        if len(self.sizes) != len(infos) or self.sizes.get(MANIFEST, manifest + 1) > manifest:
            raise BadFarmFile(*NOT_OURS)
        self.manifest = self._manifest()
        self.farm: dict[str, Any] = self.manifest["farm"]

    def _manifest(self) -> dict[str, Any]:
        try:
            said = json.loads(self.zipped.read(MANIFEST))
        except (ValueError, RecursionError) as error:
            raise BadFarmFile(*NOT_OURS) from error
        if not isinstance(said, dict) or said.get("format") != FORMAT:
            raise BadFarmFile(*NOT_OURS)
        if said.get("v") != VERSION:
            raise BadFarmFile(*NEWER)
        farm, files = said.get("farm"), said.get("files")
        if not isinstance(farm, dict) or not isinstance(files, dict) or not _is_farm(farm):
            raise BadFarmFile(*CHANGED)
        return said

    def check(self) -> None:
        """Every byte, then every row."""
        with _readable():
            self._check()

    def _check(self) -> None:
        files = self.manifest["files"]
        if set(files) | {MANIFEST} != set(self.sizes) or not {PEOPLE, *map(_lines_of, LINES)} <= set(files):
            raise BadFarmFile(*CHANGED)
        for name, said in files.items():
            if not isinstance(said, dict) or self._digest(name) != (said.get("sha256"), said.get("bytes")):
                raise BadFarmFile(*CHANGED)
        counts = {"people": sum(1 for _ in self.people())}
        for table in LINES:
            counts[table] = sum(1 for _ in self.rows(table))
        if counts != self.manifest.get("counts"):
            raise BadFarmFile(*CHANGED)

    def _digest(self, name: str) -> tuple[str, int]:
        total, size = sha256(), 0
        with self.zipped.open(name) as file:
            while part := file.read(1 << 20):
                total.update(part)
                size += len(part)
        return total.hexdigest(), size

    def rows(self, table: str) -> Iterator[dict[str, Any]]:
        seq = 0
        for row in self._parsed(_lines_of(table)):
            if "farm" in row or "farm_id" in row:
                raise BadFarmFile(*CHANGED)
            if LINES[table] is Event:
                seq = _entry(row, seq, self.farm["seq"])
            try:
                model_row(LINES[table], row)
            except ValidationError as error:
                raise BadFarmFile(*CHANGED) from error
            yield row

    def people(self) -> Iterator[dict[str, Any]]:
        for row in self._parsed(PEOPLE):
            name, role = row.get("name"), row.get("role")
            known = isinstance(role, str) and (role in dict(ROLES) or role == "")
            if not known or not _is(ID, row.get("person")) or not isinstance(name, str):
                raise BadFarmFile(*CHANGED)
            try:
                yield {"person": row["person"], "name": plain_name(name, letters=False), "role": role}
            except BadName as error:
                raise BadFarmFile(*CHANGED) from error

    def folder(self, name: str) -> Iterator[tuple[str, IO[bytes]]]:
        for each in self.sizes:
            if each.startswith(f"{name}/"):
                yield each.removeprefix(f"{name}/"), self.zipped.open(each)

    def _parsed(self, name: str) -> Iterator[dict[str, Any]]:
        with self.zipped.open(name) as file:
            while line := file.readline(MOST_LINE + 1):
                try:
                    row = json.loads(line) if len(line) <= MOST_LINE else None
                except (ValueError, RecursionError) as error:
                    raise BadFarmFile(*CHANGED) from error
                if not isinstance(row, dict):
                    raise BadFarmFile(*CHANGED)
                yield row


def _lines_of(table: str) -> str:
    return f"log/{table}.jsonl"


def _is(pattern: re.Pattern[str], value: Any) -> bool:
    return isinstance(value, str) and pattern.fullmatch(value) is not None


def _is_farm(farm: dict[str, Any]) -> bool:
    counters = all(type(farm.get(key)) is int and 0 <= farm[key] < 2**53 for key in ("seq", "outlook_rev"))
    texts = all(isinstance(farm.get(key), str) for key in ("name", "zone"))
    return (
        counters
        and texts
        and _is(ID, farm.get("id"))
        and _is(IDS, farm.get("came_from"))
        and _is(CLOCK, farm.get("clock"))
    )


def _puts_right(eff: Any) -> bool:
    """What the server says of an entry's times, where it says anything."""
    said = as_object(eff.encode()) if isinstance(eff, str) else {}
    return eff == "" or bool(said and all(isinstance(value, PUT_RIGHT.get(key, ())) for key, value in said.items()))


def _entry(row: dict[str, Any], seq: int, last: int) -> int:
    """The next of the log: its text is what was taken in, and its columns say what the text says."""
    raw = row.get("raw")
    if not isinstance(raw, str) or digest(raw) != row.get("sha256"):
        raise BadFarmFile(*CHANGED)
    event, number = as_object(raw.encode()), row.get("seq")
    same = all(event.get(key) == row.get(key) for key in ("id", "kind", "v", "subject", "author", "device"))
    ours = row.get("fold_status") in (OK, PARKED, REFUSED) and row.get("role") in ("", *dict(ROLES))
    if (
        not same
        or not ours
        or not _puts_right(row.get("eff", ""))
        or type(number) is not int
        or not seq < number <= last
    ):
        raise BadFarmFile(*CHANGED)
    return number
