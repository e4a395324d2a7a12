"""Pictures and recordings as the app makes them, without a camera."""

from __future__ import annotations

import hashlib
import struct


def jpeg(width: int = 640, height: int = 480, *, grain: bytes = b"grain", more: bytes = b"") -> bytes:
    """The parts of a JPEG in their order; what is in the scan nobody here looks at."""
    jfif = part(0xE0, b"JFIF\0\1\1\0\0\1\0\1\0\0")
    frame = part(0xC0, struct.pack(">BHHB", 8, height, width, 1) + b"\1\x11\0")
    return b"\xff\xd8" + jfif + more + frame + part(0xDA, b"\1\1\0\0\x3f\0") + grain + b"\xff\xd9"


def part(marker: int, content: bytes) -> bytes:
    return struct.pack(">BBH", 0xFF, marker, len(content) + 2) + content


def wave(seconds: float = 2.0, *, form: int = 7, rate_hz: int = 8_000) -> bytes:
    samples = b"\xff" * int(seconds * rate_hz)
    fmt = b"fmt " + struct.pack("<IHHIIHHH", 18, form, 1, rate_hz, rate_hz, 1, 8, 0)
    rest = fmt + b"fact" + struct.pack("<II", 4, len(samples)) + b"data" + struct.pack("<I", len(samples)) + samples
    return b"RIFF" + struct.pack("<I", 4 + len(rest)) + b"WAVE" + rest


def mark(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
