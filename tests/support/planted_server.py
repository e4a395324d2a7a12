"""The server with a bug in it, where one is planted: see planted_bugs.py."""

from __future__ import annotations

from herd.wsgi import application
from tests.support.planted_bugs import plant

plant()

__all__ = ["application"]
