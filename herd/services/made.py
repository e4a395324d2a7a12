"""Who made a record: told by what it says and what stood in sight, whatever the stamps say."""

from __future__ import annotations

from herd.models.farm import HELPER
from herd.state.order import Event as Fact
from herd.state.order import mapping, text

from .roles import may

PLACED = ("doe", "pen", "feed", "lot", "shelf")


def record_of(event: Fact) -> tuple[str, str]:
    return event["subject"], event["kind"]


def makes(event: Fact) -> bool:
    """Whether it names a record that whoever wrote it had not seen: `base` says what stood on her screen. A stamp is
    only a word, and what others had seen of a record nobody can write for them."""
    written, base = mapping(event["data"], "f"), mapping(event["data"], "base")
    named = event["kind"] in PLACED and may(HELPER, event["kind"]).named & written.keys()
    return bool(named) and not any(text(base, name) for name in written)
