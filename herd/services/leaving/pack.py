"""A farm into a ZIP, a piece at a time: little of it is in memory at a time."""

from __future__ import annotations

import csv
import json
import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from typing import IO, Any
from zipfile import ZIP_DEFLATED, ZipFile

from django.core.serializers.json import DjangoJSONEncoder

from herd.models import Audit, Author, Erased, Farm, Membership
from herd.services.one_moment import one_moment
from herd.services.versions import versions

from .cells import safe
from .parts import FOLDERS, FORMAT, LINES, VERSION
from .sheets import BOM, people_of, write_sheets

README = Path(__file__).with_name("README.txt")
MANIFEST = "manifest.json"
PEOPLE = "log/people.jsonl"
KEPT_OF_FARM = ("name", "zone", "seq", "outlook_rev", "clock", "came_from")


def export(farm: Farm, path: Path) -> dict[str, int]:
    """Write one moment of the farm to a file only its owner can read. Size in bytes by name."""
    draft = path.with_name(f"{path.name}.{os.getpid()}.part")
    handle = os.open(draft, os.O_RDWR | os.O_CREAT | os.O_TRUNC, 0o600)
    try:
        with os.fdopen(handle, "w+b") as file, tempfile.TemporaryDirectory(dir=path.parent) as folder, one_moment():
            sizes = _write(Farm.objects.get(pk=farm.pk), file, Path(folder))
        draft.replace(path)
    finally:
        draft.unlink(missing_ok=True)
    return sizes


class Packing:
    """The ZIP being written, and the digest of each of its files, which goes in last."""

    def __init__(self, zipped: ZipFile) -> None:
        self.zipped, self.files = zipped, dict[str, dict[str, Any]]()

    @contextmanager
    def file(self, name: str) -> Iterator[Summed]:
        with self.zipped.open(name, "w", force_zip64=True) as out:
            summed = Summed(out)
            yield summed
        self.files[name] = {"sha256": summed.sum.hexdigest(), "bytes": summed.size}


class Summed:
    def __init__(self, out: IO[bytes]) -> None:
        self.out, self.sum, self.size = out, sha256(), 0

    def write(self, part: bytes) -> int:
        self.sum.update(part)
        self.size += len(part)
        return self.out.write(part)


def _write(farm: Farm, file: IO[bytes], folder: Path) -> dict[str, int]:
    with ZipFile(file, "w", ZIP_DEFLATED, compresslevel=6) as zipped:
        packing, counts = Packing(zipped), dict[str, int]()
        with packing.file("README.txt") as out:
            out.write(README.read_bytes())
        counts["people"] = _lines(packing, PEOPLE, _people(farm))
        for name, model in LINES.items():
            counts[name] = _lines(packing, f"log/{name}.jsonl", _rows(farm, model))
        write_sheets(farm, folder)
        _people_sheet(farm, folder)
        _audit_sheet(farm, folder)
        for sheet in sorted(folder.iterdir()):
            with packing.file(f"tables/{sheet.name}") as out, sheet.open("rb") as rows:
                shutil.copyfileobj(rows, out)
        for part in FOLDERS:
            for name, content in part.out(farm.pk):
                with packing.file(f"{part.name}/{name}") as out, content:
                    shutil.copyfileobj(content, out)
        kept = {key: getattr(farm, key) for key in KEPT_OF_FARM}
        manifest = {"format": FORMAT, "v": VERSION, "versions": versions(), "farm": {"id": farm.pk, **kept}}
        zipped.writestr(MANIFEST, _text({**manifest, "counts": counts, "files": packing.files}))
        return {name: said["bytes"] for name, said in packing.files.items()}


def _lines(packing: Packing, name: str, rows: Iterator[dict[str, Any]]) -> int:
    count = 0
    with packing.file(name) as out:
        for row in rows:
            out.write(_text(row).encode() + b"\n")
            count += 1
    return count


def _text(row: dict[str, Any]) -> str:
    return json.dumps(row, cls=DjangoJSONEncoder, ensure_ascii=False, separators=(",", ":"))


def _rows(farm: Farm, model: Any) -> Iterator[dict[str, Any]]:
    """Every column but the farm, and but the row's own number, which the next database gives anew."""
    own = [one.attname for one in model._meta.concrete_fields if one.attname != "farm_id"]
    wanted = [name for name in own if name != "id" or model._meta.get_field("id").get_internal_type() == "CharField"]
    yield from model._default_manager.filter(farm=farm).order_by("pk").values(*wanted).iterator(chunk_size=2000)


def _people(farm: Farm) -> Iterator[dict[str, Any]]:
    """Names of who wrote here. Somebody who was erased is only an id in what they recorded."""
    erased = set(Erased.objects.filter(farm__in=("", farm.pk)).values_list("person", flat=True))
    roles = dict(Membership.everyone.filter(farm=farm).values_list("person_id", "role"))
    roles = {**dict(Author.objects.filter(farm=farm).values_list("person", "role")), **roles}
    for person, name in people_of(farm).items():
        if person not in erased:
            yield {"person": person, "name": name, "role": roles.get(person, "")}


def _people_sheet(farm: Farm, folder: Path) -> None:
    rows = ([safe(one["name"]), one["role"], one["person"]] for one in _people(farm))
    _sheet(folder / "people.csv", ["Name", "Role", "Id"], rows)


def _audit_sheet(farm: Farm, folder: Path) -> None:
    names = people_of(farm)
    found = Audit.objects.filter(farm=farm).order_by("pk").values_list("at", "person", "what", "detail")
    rows = ([at.isoformat(), safe(names.get(who, "")), what, safe(detail)] for at, who, what, detail in found)
    _sheet(folder / "who_changed_what.csv", ["When", "By", "What", "Detail"], rows)


def _sheet(path: Path, head: list[str], rows: Iterator[list[str]]) -> None:
    with path.open("w", encoding="utf-8", newline="") as file:
        file.write(BOM)
        writer = csv.writer(file)
        writer.writerow(head)
        writer.writerows(rows)
