"""What the herd's mineral and water card is made from: records, states, the last days' meals, the water tests."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from herd.models import Event, Farm
from herd.models.event import OK
from herd.outlook.shapes import HerdCard
from herd.state.fold import fold
from herd.state.kinds import CHAINS, RECORDS

from .science import compile_card
from .wire import replay

BACK_D = 9
STATES = ("bred", "preg_check", "moved", "dried_off", "kidded", "left_herd", "water")
MEALS = ("fed", "intake")


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
    return fold([replay(raw, eff) for part in parts for raw, eff in part.values_list("raw", "eff")])


def card_of(view: dict[str, Any], today: date) -> HerdCard | None:
    return compile_card(view, today)
