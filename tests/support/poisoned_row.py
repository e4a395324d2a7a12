"""An entry as a row of the log, past every judge: as a build that did not know better let it in."""

from __future__ import annotations

from typing import Any

from herd.models import Farm
from herd.models.event import OK, PARKED
from herd.models.farm import HELPER
from herd.services.append import Entry
from herd.state.kinds import CHAINS, KINDS, known


def poisoned_row(farm: Farm, event: dict[str, Any], raw: str) -> Entry:
    """`farm.seq` is its place in the log. What a column cannot hold is made up."""

    def said(name: str, usual: Any) -> Any:
        value = event.get(name)
        return value if type(value) is type(usual) and (not isinstance(value, str) or len(value) < 40) else usual

    kind, nobody = said("kind", "strange"), "0" * 8 + "-0000" * 3 + "-" + "0" * 12
    form = "score" if kind in CHAINS else kind if kind in KINDS else ""
    return Entry(
        farm_id=farm.id,
        seq=farm.seq,
        id=event["id"],
        kind=kind,
        v=min(said("v", 1), 1000),
        subject=said("subject", nobody),
        form=form,
        on=said("on", "2026-11-01"),
        happened_ms=min(said("happened", 0), 2**60),
        hlc=said("hlc", "0" * 26),
        eff="",
        raw=raw,
        sha256="",
        author=said("author", nobody),
        device=said("device", nobody),
        received_ms=0,
        # A helper's: what hangs on what stands is judged over the whole of it.
        role=HELPER,
        fold_status=OK if known(event.get("kind"), event.get("v")) else PARKED,
        waits_for="",
    )
