"""What this build is, for the About page and for phones that are too old to read its answers."""

from __future__ import annotations

from functools import cache
from importlib.metadata import PackageNotFoundError, version

from .science import science_version

SCHEMA = 1
# Older apps may always send; they are only asked to update before they read on.
MIN_APP = "0.1.0"


@cache
def app_version() -> str:
    try:
        return version("mangerline")
    except PackageNotFoundError:
        return MIN_APP


def versions() -> dict[str, str | int]:
    return {"app": app_version(), "science": science_version(), "schema": SCHEMA}
