"""The years on a farm, read from its whole log once a night where anything was recorded since."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import transaction

from herd.models import Farm, OutlookRow
from herd.models.folded import BOOK, YEARS
from herd.outlook.rules import rules_of
from herd.outlook.shapes import YearsDoc
from herd.outlook.years.fed import add_to, eaten_on
from herd.outlook.years.kiddings import kiddings_of
from herd.outlook.years.seasons import Said, Season, Spans, look_at
from herd.state.fold import fold
from herd.state.kinds import CHAINS
from herd.state.order import by_time, mapping
from herd.state.sift import sift

from .clock import day_of, now_ms
from .due import FIELDS, set_due
from .recompile import Compiled, write
from .science import compile_book, compile_years, science_version
from .wire import digest
from .years_log import days, lasting

HAD = {"had_toxemia": "toxemia", "had_milk_fever": "milk_fever"}


def read_years(farm_id: str, today: date | None = None) -> bool:
    """Whether another document came of it than stood before."""
    farm = Farm.objects.get(pk=farm_id)
    today = today or day_of(now_ms(), farm.zone)
    mark = digest(f"{farm.epoch} {farm.seq} {science_version()}")
    held = OutlookRow.objects.filter(farm=farm, doe=YEARS).values_list("inputs_sha256", flat=True).first()
    if held == mark:
        return False
    doc = years_of(farm_id, today)
    # While nothing has kidded there is nothing to look back at; where something had, that it was taken back counts.
    if not doc["kiddings"] and held is None:
        return False
    return _stored(farm_id, Compiled(YEARS, doc, mark), today)


@transaction.atomic
def _stored(farm_id: str, made: Compiled, today: date) -> bool:
    farm = Farm.objects.select_for_update().get(pk=farm_id)
    changed = write(farm, [made], today)
    if changed:
        # the book goes by its timings: of no science, it is made anew; her dates follow with each doe's next outlook
        OutlookRow.objects.filter(farm=farm, doe=BOOK).update(science="")
        set_due(farm)
    farm.save(update_fields=["outlook_rev", *FIELDS])
    return bool(changed)


def years_of(farm_id: str, today: date) -> YearsDoc:
    """Read through once: first what lasts, then each day's meals and milkings."""
    events = lasting(farm_id)
    counts = sorted(sift(events, ()).counts, key=by_time)
    view = fold(events)
    kiddings = kiddings_of(view, [event for event in counts if event["kind"] == "kidded"])
    spans = Spans(kiddings)
    _fed(farm_id, view, spans, [event for event in events if event["kind"] in CHAINS])
    _looked(view, spans.seasons, counts)
    return compile_years(view, spans.seasons, kiddings, today)


def _fed(farm_id: str, view: dict[str, Any], spans: Spans, links: list[dict[str, Any]]) -> None:
    feeds, does = compile_book(view)["feeds"], view["does"]
    unsaid_pm = rules_of(view["rules"]["f"])["left_unsaid_pm"]

    def class_of(feed: str) -> str:
        return str(feeds.get(feed, {}).get("class", ""))

    for day in days(farm_id, links):
        for doe, lines in eaten_on(day.on, day.feedings, day.intakes, does, unsaid_pm).items():
            if at := spans.at(doe, day.on):
                add_to(at[0].phases[at[1]], lines, class_of)
        for doe, g in day.milk_g.items():
            if (at := spans.at(doe, day.on)) and at[1] == "fresh" and g:
                at[0].milk_days += 1
                at[0].milk_g += g


def _looked(view: dict[str, Any], seasons: list[Season], counts: list[dict[str, Any]]) -> None:
    act_x10 = rules_of(view["rules"]["f"])["bhb_act_x10"]
    said = _said(counts)
    for season in seasons:
        doe = season.kidding.doe
        look_at(season, view["does"][doe], said.get(doe, Said([], [])), act_x10)


def _said(counts: list[dict[str, Any]]) -> dict[str, Said]:
    found: dict[str, Said] = {}
    for event in counts:
        hers = found.setdefault(event["subject"], Said([], []))
        if event["kind"] == "dried_off":
            hers.dried.append(event["on"])
        elif event["kind"] == "doe":
            written = mapping(event["data"], "f")
            hers.had.extend((event["on"], what) for name, what in HAD.items() if written.get(name) is True)
    return found
