"""A farm's pictures and recordings as files, named by their marks."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from typing import IO

from herd.models import Blob
from herd.services.clock import now_ms
from herd.services.media_formats import MOST_BYTES, BadMedia, media_of
from herd.services.wire import digest

ENDINGS = {"image/jpeg": "jpg", "audio/wav": "wav"}


def out(farm_id: str) -> Iterator[tuple[str, IO[bytes]]]:
    rows = Blob.objects.filter(farm_id=farm_id).order_by("pk")
    for row in rows.iterator(chunk_size=20):
        yield f"{row.sha256}.{ENDINGS[row.media]}", BytesIO(bytes(row.content))


def take(farm_id: str, name: str, file: IO[bytes]) -> None:
    """Raises ValueError for what is not what its name says."""
    content = file.read(MOST_BYTES + 1)
    mark = digest(content)
    if name.partition(".")[0] != mark:
        raise BadMedia("A picture is not the one its name says.")
    row = {"media": media_of(content), "size": len(content), "sender": "", "received_ms": now_ms(), "content": content}
    Blob.objects.create(farm_id=farm_id, sha256=mark, **row)
