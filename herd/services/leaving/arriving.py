"""A farm's file that comes in by the app: in parts, kept until all are there, then taken in whole or not at all."""

from __future__ import annotations

import tempfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import IO

from django.conf import settings
from django.db import transaction

from herd.models import Farm, FarmFile, FilePart, Person
from herd.services.clock import now_ms
from herd.services.health import LEAST_FREE, free_bytes

from .opened import BadFarmFile, Most, opened
from .unpack import take_in

MB = 1_000_000
# Small enough for a weak signal, and far below what any door takes at once.
PART_BYTES = 256 * 1024
KEPT_MS = 24 * 3600 * 1000
# The parts in the database, the file they make, and what comes out of it.
ROOM = 4
# Of a stranger's file less is unpacked than of one that whoever runs the server has at hand.
MOST_FILES, MOST_TIMES = 20_000, 5


class NoPlace(Exception):
    """Nothing of it was kept: the disk has no room for it."""


class NotAllHere(Exception):
    """Some of its parts never came."""


class UnderWay(Exception):
    """This process is taking in another one: again in a moment."""


_one = threading.Lock()


def most_bytes() -> int:
    return int(settings.IMPORT_MB * MB)


def check_size(size: int) -> None:
    if size > most_bytes():
        raise BadFarmFile(
            "farm_file_large",
            f"The app takes in files of up to {settings.IMPORT_MB} MB. Whoever runs the server takes in a larger one"
            " with `mangerline import`.",
        )
    if free_bytes(settings.DATA_DIR) < ROOM * size + LEAST_FREE:
        raise NoPlace


def begin(person: Person, size: int) -> FarmFile:
    """A file of so many bytes will come. One at a time for each person: what she left half sent goes."""
    with transaction.atomic():
        FarmFile.objects.filter(person=person, became="").delete()
        return FarmFile.objects.create(person=person, size=size, begun_ms=now_ms())


def put(file: FarmFile, number: int, content: bytes) -> bool:
    """Keep a part; again changes nothing. False for one the file has not, or of another length."""
    first = number * PART_BYTES
    if file.became or first >= file.size or len(content) != min(PART_BYTES, file.size - first):
        return False
    FilePart.objects.update_or_create(file=file, number=number, defaults={"content": content})
    return True


def open_up(file: FarmFile, name: str = "") -> Farm:
    """The farm it is. Asked again it is the same farm, whoever asked before and whatever became of the answer."""
    if file.became:
        return Farm.objects.get(pk=file.became)
    try:
        with _alone(), _whole(file) as whole, opened(whole, _most()) as found:
            found.check()
            with transaction.atomic():
                # Whoever else opens it waits here, and then finds what it became.
                file = FarmFile.objects.select_for_update().get(pk=file.pk)
                if not file.became:
                    file.became = take_in(found, file.person, name).pk
                    file.save(update_fields=["became"])
                    file.parts.all().delete()
    except BadFarmFile:
        file.parts.all().delete()
        raise
    return Farm.objects.get(pk=file.became)


def forget_old() -> int:
    """What nobody finished; of those that became a farm, that they did."""
    return FarmFile.objects.filter(begun_ms__lt=now_ms() - KEPT_MS).delete()[0]


def _most() -> Most:
    return Most(MOST_FILES, MOST_TIMES * most_bytes())


@contextmanager
def _alone() -> Iterator[None]:
    if not _one.acquire(blocking=False):
        raise UnderWay
    try:
        yield
    finally:
        _one.release()


@contextmanager
def _whole(file: FarmFile) -> Iterator[IO[bytes]]:
    """Without a name from the start: a process that dies leaves no file."""
    with tempfile.TemporaryFile(dir=settings.DATA_DIR) as whole:
        for part in file.parts.order_by("number").values_list("content", flat=True).iterator(chunk_size=4):
            whole.write(part)
        if whole.tell() != file.size:
            raise NotAllHere
        whole.seek(0)
        yield whole
