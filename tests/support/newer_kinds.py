"""A build from after this one, as far as a log can tell: it knows a second version of some kinds."""

from __future__ import annotations

from dataclasses import replace

from herd.state.kinds import KINDS
from herd.state.payloads import FORMS

# The same in frontend/tests/protocol/builds.ts. Their content is judged as in the first.
NEWER = ("fed", "ration")


def become_newer() -> None:
    KINDS.update({name: replace(KINDS[name], versions=(1, 2)) for name in NEWER})
    FORMS.update({(name, 2): FORMS[name, 1] for name in NEWER})


def become_today() -> None:
    KINDS.update({name: replace(KINDS[name], versions=(1,)) for name in NEWER})
    for name in NEWER:
        FORMS.pop((name, 2), None)
