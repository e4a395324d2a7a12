"""A build from after this one, as far as a log can tell: it knows a second version of some kinds."""

from __future__ import annotations

from dataclasses import replace

from herd.state.kinds import KINDS

# The same in frontend/tests/protocol/builds.ts. Their content is judged without a look at the version.
NEWER = ("fed", "ration")


def become_newer() -> None:
    KINDS.update({name: replace(KINDS[name], versions=(1, 2)) for name in NEWER})


def become_today() -> None:
    KINDS.update({name: replace(KINDS[name], versions=(1,)) for name in NEWER})
