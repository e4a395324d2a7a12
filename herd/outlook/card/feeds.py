"""The week's feeds and the mineral products put out, as sources on the card, by id."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from herd.science.feeds.library import feeds
from herd.science.water_minerals.portions import FEED, MAJORS, PRODUCT, TRACES, Portion, holdings

from ..evaluate import FarmDay
from .diet import Diet

Holds = Mapping[str, float | None]
# What is eaten in an unknown amount: it adds nothing that can be counted, and leaves no total complete.
SOME_KG = 0.001
NG_PER_MG_KG = 1000
G_X10_PER_KG = 10_000


def portions_of(farm: FarmDay, diet: Diet) -> tuple[Portion, ...]:
    """Every source but the water: what was fed, and what lies out for the does to take."""
    return (*_fed(farm, diet), *_free(farm, diet))


def _fed(farm: FarmDay, diet: Diet) -> Iterator[Portion]:
    for feed_id, dm_g in diet.feeds.items():
        if not _known_at_will(farm, feed_id):
            yield Portion(feed_id, _kind(farm, feed_id), dm_g / 1000, holds(farm, feed_id))
    for feed_id in diet.undried:
        yield Portion(feed_id, _kind(farm, feed_id), SOME_KG, _some(holds(farm, feed_id)))


def _free(farm: FarmDay, diet: Diet) -> Iterator[Portion]:
    for feed_id, record in sorted(farm.view["feeds"].items()):
        if record["f"].get("free_choice") is not True:
            continue
        g_x10 = record["f"].get("free_g_x10")
        if type(g_x10) is int:
            yield Portion(feed_id, PRODUCT, g_x10 * diet.does / G_X10_PER_KG, holds(farm, feed_id))
        elif feed_id not in diet.feeds:
            yield Portion(feed_id, PRODUCT, SOME_KG, _some(holds(farm, feed_id)))


def _known_at_will(farm: FarmDay, feed_id: str) -> bool:
    """What each doe takes a day is known: what was put out on one day is then no guide."""
    f = farm.view["feeds"].get(feed_id, {"f": {}})["f"]
    return f.get("free_choice") is True and type(f.get("free_g_x10")) is int


def _kind(farm: FarmDay, feed_id: str) -> str:
    return PRODUCT if farm.feed(feed_id).get("class") == "mineral" else FEED


def _some(known: Holds) -> Holds:
    """A product without an element brings none of it in any amount; of all others nobody knows how much."""
    return {element: 0.0 if content == 0 else None for element, content in known.items()}


def holds(farm: FarmDay, feed_id: str) -> Holds:
    """mg per kg of dry matter: as reported or printed on the label, else as the library feed it goes back to has it."""
    feed = farm.feed(feed_id)
    library = feeds().get(_root(farm, feed_id))
    found: dict[str, float | None] = holdings(library) if library else dict.fromkeys((*MAJORS, "ca", *TRACES))
    for element in (*MAJORS, "ca"):
        if isinstance(feed.get(f"{element}_ug_g"), int):
            found[element] = float(feed[f"{element}_ug_g"])
    for element in TRACES:
        if isinstance(feed.get(f"{element}_ng_g"), int):
            found[element] = feed[f"{element}_ng_g"] / NG_PER_MG_KG
    return found


def _root(farm: FarmDay, feed_id: str) -> str:
    records: Mapping[str, Any] = {**farm.view["feeds"], **farm.view["lots"]}
    for _ in range(3):
        if feed_id not in records:
            break
        f = records[feed_id]["f"]
        feed_id = str(f.get("feed") or f.get("like") or "")
    return feed_id
