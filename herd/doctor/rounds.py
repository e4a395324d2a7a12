"""All that is looked at, in order; what stumbles is said and keeps nothing else from being looked at."""

from __future__ import annotations

from collections.abc import Collection, Iterator

from . import chores, log, machine, outside
from .finding import BAD, Check, Finding

CHECKS: tuple[tuple[str, Check], ...] = (
    ("disk", machine.disk),
    ("writing", machine.writing),
    ("pages", log.pages),
    ("migrations", log.migrations),
    ("entries", log.digests),
    ("tables", log.folded),
    ("clock", machine.clock),
    ("files", machine.files),
    ("notices", machine.notices),
    ("names", outside.names),
    ("key", outside.key),
    ("certificates", outside.certificates),
    ("mail", outside.mail),
    ("backup", chores.backups),
    ("outlooks", chores.outlooks),
    ("sessions", chores.sessions),
)


def rounds(only: Collection[str] = ()) -> Iterator[Finding]:
    for about, check in (one for one in CHECKS if not only or one[0] in only):
        try:
            yield from check()
        except Exception as error:
            do = "See what is said above about the database and the disk, then look again."
            yield Finding(BAD, about, f"This could not be looked at: {type(error).__name__}: {error}", do)
