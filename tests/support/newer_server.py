"""The server as a newer build would serve it: for a farm whose phones are upgraded one by one."""

from __future__ import annotations

from herd.wsgi import application
from tests.support.newer_kinds import become_newer

become_newer()

__all__ = ["application"]
