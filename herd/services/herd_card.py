"""What the herd's mineral and water card is made from: records, states, the last days' meals, the water tests."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from herd.models import Event, Farm
from herd.models.event import OK
from herd.outlook.shapes import HerdCard
from herd.state.fold import fold
from herd.state.kinds import CHAINS, RECORDS
from herd.state.order import content, text

from .science import compile_card
from .wire import replay

BACK_D = 9
STATES = ("bred", "preg_check", "moved", "dried_off", "kidded", "left_herd")
MEALS = ("fed", "intake")
# The last one counts; the others are for where it was taken back.
TESTS = 40


def card_inputs(farm: Farm, today: date) -> dict[str, Any]:
    """The farm's view without what the card does not look at."""
    since = (today - timedelta(days=BACK_D)).isoformat()
    rows = Event.objects.filter(farm=farm, fold_status=OK)
    # Each by the index on kind and date: one question with an "or" in it reads the whole log.
    parts = (
        rows.filter(kind__in=(*RECORDS, *STATES)),
        rows.filter(kind__in=MEALS, on__gte=since),
        rows.filter(kind__in=CHAINS, form__in=(*RECORDS, *STATES, *MEALS)),
    )
    found = [replay(raw, eff) for part in parts for raw, eff in part.values_list("raw", "eff")]
    return fold([*found, *_water(rows)])


def _water(rows: Any) -> list[dict[str, Any]]:
    """The newest tests, those a correction may have dated anew, and what was said of any."""
    links = [replay(*row) for row in rows.filter(kind__in=CHAINS, form="water").values_list("raw", "eff")]
    named = {text(content(link), "of") for link in links if link["kind"] == "correct"}
    tests = rows.filter(kind="water")
    newest = tests.order_by("-on", "-happened_ms")[:TESTS].values_list("id", "raw", "eff")
    chosen = {row[0]: row for row in (*newest, *tests.filter(id__in=named).values_list("id", "raw", "eff"))}
    return [*links, *(replay(raw, eff) for _, raw, eff in chosen.values())]


def card_of(view: dict[str, Any], today: date) -> HerdCard | None:
    return compile_card(view, today)
