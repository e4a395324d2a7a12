"""A build from after this one, as far as a log can tell: it knows a further version of some kinds."""

from __future__ import annotations

from dataclasses import replace

from herd.state.kinds import KINDS
from herd.state.payloads import FORMS

# The same in frontend/tests/protocol/builds.ts. Their content is judged as in the newest of today.
NEWER = ("fed", "ration")
TODAY = {name: KINDS[name] for name in NEWER}


def become_newer() -> None:
    for name, kind in TODAY.items():
        KINDS[name] = replace(kind, versions=(*kind.versions, kind.newest + 1))
        FORMS[name, kind.newest + 1] = FORMS[name, kind.newest]


def become_today() -> None:
    KINDS.update(TODAY)
    for name, kind in TODAY.items():
        FORMS.pop((name, kind.newest + 1), None)
