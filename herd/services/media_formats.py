"""What a picture or a recording may be made of. Not decoded here: only that it is what it says, and says no more.

A picture is a JPEG without the parts that cameras write place, time and owner into (ISO/IEC 10918-1 annex B for its
markers; Exif stands in APP1). A recording is mu-law at 8 kHz in one channel (ITU-T G.711) in a RIFF file: any phone can
make it out of whatever its microphone gives, and unfold it for playing.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator

JPEG, WAVE = "image/jpeg", "audio/wav"
MOST_BYTES = 400_000
MOST_PIXELS = 4_000_000
MOST_S = 31
RATE_HZ = 8_000
MU_LAW = 7
START, SCAN, END = b"\xff\xd8", 0xDA, b"\xff\xd9"
# JFIF and a colour profile; everything else of the kind is somebody's notes.
HARMLESS_APPS = {0xE0, 0xE2}
APPS, COMMENT = range(0xE0, 0xF0), 0xFE
FRAMES = {*range(0xC0, 0xD0)} - {0xC4, 0xC8, 0xCC}


class BadMedia(ValueError):
    """In words for a person."""


def media_of(content: bytes) -> str:
    """The media type; raises BadMedia with what to do when it is neither, or holds what it may not."""
    if len(content) > MOST_BYTES:
        raise BadMedia("This is too large: take it again in the app, which makes it smaller.")
    if content.startswith(START):
        _check_jpeg(content)
        return JPEG
    if content[:4] == b"RIFF" and content[8:12] == b"WAVE":
        _check_wave(content)
        return WAVE
    raise BadMedia("This is neither a picture nor a recording made in the app.")


def _check_jpeg(content: bytes) -> None:
    size = (0, 0)
    if not content.endswith(END):
        raise BadMedia("The picture is cut off: take it again.")
    for marker, part in _segments(content):
        if marker == COMMENT or (marker in APPS and marker not in HARMLESS_APPS):
            raise BadMedia("The picture may hold the place it was taken: take it again in the app.")
        if marker in FRAMES:
            height, width = struct.unpack(">HH", part[1:5])
            size = (width, height)
    if not 0 < size[0] * size[1] <= MOST_PIXELS:
        raise BadMedia("The picture cannot be read: take it again.")


def _segments(content: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and content of each part before the scan."""
    at = 2
    while at + 4 <= len(content):
        lead, marker, length = struct.unpack(">BBH", content[at : at + 4])
        if lead != 0xFF or length < 2 or at + 2 + length > len(content):
            break
        if marker == SCAN:
            return
        part = content[at + 4 : at + 2 + length]
        if marker in FRAMES and len(part) < 5:
            break
        yield marker, part
        at += 2 + length
    raise BadMedia("The picture cannot be read: take it again.")


def _check_wave(content: bytes) -> None:
    """Exactly what the app writes: a format, perhaps a count of samples, and the samples."""
    at, found = 12, dict[bytes, bytes]()
    while at + 8 <= len(content):
        name, length = struct.unpack("<4sI", content[at : at + 8])
        found[name] = content[at + 8 : at + 8 + length]
        at += 8 + length + length % 2
    form = found.get(b"fmt ", b"")
    if set(found) - {b"fmt ", b"fact", b"data"} or len(form) < 16 or not found.get(b"data"):
        raise BadMedia("The recording cannot be read: say it again.")
    if struct.unpack("<HHIIHH", form[:16]) != (MU_LAW, 1, RATE_HZ, RATE_HZ, 1, 8):
        raise BadMedia("The recording is not one the app makes: say it again.")
    if len(found[b"data"]) > MOST_S * RATE_HZ:
        raise BadMedia("The recording is longer than half a minute: say it again, shorter.")
