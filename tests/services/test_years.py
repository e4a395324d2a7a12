"""The years of a farm, from its log: every figure beside plain sums over the raw entries, made by other code."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from herd.models import Farm
from herd.outlook.years.document import years_document
from herd.outlook.years.kiddings import Kidding
from herd.outlook.years.seasons import Fed, Season
from herd.services.make_farm import make_farm
from herd.services.recompile import recompile
from herd.services.wire import canonical
from herd.services.years import read_years, years_of
from herd.services.years_log import days
from tests.logs import outlooks, record
from tests.phones import Phone
from tests.support.three_years import GRAIN, HAY, LEGUME, ThreeYears, at

TODAY = date(2026, 10, 1)
Row = list[Any]
pytestmark = pytest.mark.timeout(300)


@pytest.fixture
def farm(ada: Phone) -> ThreeYears:
    return ThreeYears(ada).live()


def document(farm: ThreeYears) -> dict[str, Any]:
    assert read_years(farm.phone.farm.pk, TODAY)
    return outlooks(farm.phone.farm)["years"]


def standing(events: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Meals as they count: no entry of this farm is named twice."""
    links = {event["data"]["of"]: event for event in events if event["kind"] in ("void", "correct")}
    found = []
    for event in events:
        link = links.get(event["id"])
        if event["kind"] != "fed" or (link and link["kind"] == "void"):
            continue
        fixed = link["data"] if link else {}
        found.append({**event, "data": fixed.get("data", event["data"]), "on": fixed.get("on", event["on"])})
    return found


def by_hand(farm: ThreeYears, doe: str, first: date, end: date) -> tuple[int, float, float, float]:
    """Days with feed, hay, grain and legume of one doe from one day up to another, that one left out."""
    pen = farm.pens[farm.does.index(doe) // 4]
    left = {
        (event["subject"], event["data"]["fed"]): event["data"]["left_pct"]
        for event in farm.events
        if event["kind"] == "intake"
    }
    meals: dict[str, list[dict[str, Any]]] = {}
    for meal in standing(farm.events):
        if meal["subject"] == pen and first.isoformat() <= meal["on"] < end.isoformat():
            meals.setdefault(meal["on"], []).append(meal)
    days, sums = set(), {HAY: 0.0, LEGUME: 0.0, GRAIN: 0.0}
    for on, fed in meals.items():
        for to, heads in (("", 4), (doe, 1)):
            who = pen if to == "" else doe
            pct = max((left.get((who, meal["id"]), 0) for meal in fed), default=0)
            sets = [[line for line in meal["data"]["lines"] if line["to"] == to] for meal in fed]
            counted = min((one for one in sets if one), key=lambda one: sum(line["g"] for line in one), default=[])
            for line in counted:
                sums[line["feed"]] += line["g"] / heads * (100 - pct) / 100
            if counted:
                days.add(on)
    return len(days), sums[HAY] + sums[LEGUME], sums[GRAIN], sums[LEGUME]


def of_doe(doc: dict[str, Any], doe: str) -> list[Row]:
    place = [mark for mark, _ in doc["does"]].index(doe)
    return [row for row in doc["rows"] if row[0] == place]


@pytest.mark.slow
def test_what_each_doe_was_fed_is_what_the_entries_add_up_to(farm: ThreeYears) -> None:
    doc = document(farm)
    assert (doc["kiddings"], len(doc["rows"])) == (24, 24)
    for doe in farm.does:
        said = [event for event in farm.events if event["kind"] in ("bred", "kidded") and event["subject"] == doe]
        for row, bred, kidded in zip(of_doe(doc, doe), said[::2], said[1::2], strict=True):
            first, on = date.fromisoformat(bred["on"]), date.fromisoformat(kidded["on"])
            assert (row[1], row[11]) == (kidded["on"], (on - first).days)
            late = first + timedelta(days=100)
            for phase, start, end in zip(row[14], (first, late, on), (late, on, on + timedelta(days=60)), strict=True):
                days, hay, grain, legume = by_hand(farm, doe, start, end)
                assert phase[:2] == [(end - start).days, days]
                assert phase[2:4] == [pytest.approx(hay, abs=1), pytest.approx(grain, abs=1)]
                assert phase[4] == pytest.approx(1000 * legume / hay, abs=1)
    for year in doc["years"]:
        mine = [row for row in doc["rows"] if row[1].startswith(str(year[0]))]
        assert year[1:5] == [len(mine), len({row[0] for row in mine}), sum(r[2] for r in mine), sum(r[3] for r in mine)]
        up_to_kidding = [phase for row in mine for phase in row[14][:2]]
        assert year[11] == sum(phase[1] for phase in up_to_kidding)
        for place, part in ((12, 2), (13, 3)):
            assert year[place] == pytest.approx(sum(phase[part] for phase in up_to_kidding), abs=len(mine))


@pytest.mark.slow
def test_kids_help_ketones_condition_milk_and_signs_are_what_was_written(farm: ThreeYears) -> None:
    doc = document(farm)
    kids = [event["data"]["f"] for event in farm.events if event["kind"] == "kid"]
    for n, doe in enumerate(farm.does):
        for row in of_doe(doc, doe):
            hers = [kid["birth_g"] for kid in kids if kid["dam"] == doe and kid["born_on"] == row[1]]
            assert row[2:6] == [1 + n % 3, 1 + n % 3 - (n == 5), len(hers), sum(hers)]
            assert row[6:8] == [2 if n == 5 else 0, 0 if n % 4 else 1]
            assert row[8:11] == [300, 300, 275 + 25 * (n % 3)]
            assert row[12:14] == [round(sum(2200 + 10 * d for d in range(0, 60, 7)) / 9), 9]
    signs = {row["sign"]: row for row in doc["signs"]}
    assert (signs["ligaments_gone"]["n"], signs["ligaments_gone"]["own_min"]) == (24, 24 * 60)
    assert (signs["mucus_amber"]["n"], signs["mucus_amber"]["own_min"]) == (24, 5 * 60)
    assert 16 * 60 < signs["ligaments_gone"]["median_min"] < 24 * 60
    assert [signs["pawing"][part] for part in ("n", "own_min", "looked", "enough")] == [0, 0, 24, False]
    [alpine] = doc["lengths"]
    usual = [row[11] + 0.6 * (row[2] - 1.85) for row in doc["rows"]]
    assert (alpine["group"], alpine["n"], alpine["own_x10"]) == ("alpine", 24, round(10 * sum(usual) / 24))


@pytest.mark.slow
def test_what_enough_kiddings_taught_reaches_the_book_and_her_dates(farm: ThreeYears) -> None:
    """Her ligaments went a day before the kid each time; what is assumed is sixteen hours."""
    pk = farm.phone.farm.pk
    recompile(pk, TODAY)
    assert outlooks(farm.phone.farm)[""]["signs"]["own"] == {}
    rows = {row["sign"]: row for row in document(farm)["signs"]}
    assert Farm.objects.get(pk=pk).outlooks_due_on == ""
    recompile(pk, TODAY)
    book = outlooks(farm.phone.farm)[""]
    assert book["signs"]["own"]["ligaments_gone"] == [24, rows["ligaments_gone"]["median_min"]]
    assert "mucus_amber" not in book["signs"]["own"], "looks are too far apart to time it"
    before = book["rev"]
    recompile(pk, TODAY)
    assert outlooks(farm.phone.farm)[""]["rev"] == before
    record(farm.phone, farm.phone.event("bred", farm.does[0], bred_on(TODAY)))
    recompile(pk, TODAY)
    assert "farm_length" in outlooks(farm.phone.farm)[farm.does[0]]["assumed"]


def bred_on(on: date) -> dict[str, Any]:
    return {"from_on": on.isoformat(), "to_on": on.isoformat(), "how": "hand", "buck": ""}


def test_a_farm_without_kiddings_has_no_such_page_and_one_read_is_enough(ada: Phone, doe: str) -> None:
    assert not read_years(ada.farm.pk, TODAY)
    said = ada.event("kidded", doe, {"born": 2, "alive": 2, "timed": True}, v=2, happened=at(date(2026, 3, 1)))
    record(ada, said)
    before = Farm.objects.get(pk=ada.farm.pk).outlook_rev
    assert read_years(ada.farm.pk, TODAY)
    assert not read_years(ada.farm.pk, TODAY + timedelta(days=1))
    doc = outlooks(ada.farm)["years"]
    assert (doc["kiddings"], doc["rev"]) == (1, before + 1)
    record(ada, ada.event("void", doe, {"of": said["id"]}))
    assert read_years(ada.farm.pk, TODAY)
    assert outlooks(ada.farm)["years"]["rows"] == []


def questions(farm_id: str) -> int:
    with CaptureQueriesContext(connection) as asked:
        years_of(farm_id, TODAY)
    return len(asked)


@pytest.mark.slow
def test_the_log_is_read_by_as_many_questions_however_long_it_is(farm: ThreeYears, ben: Phone, doe: str) -> None:
    """And by each row once: what it gives out is held by the day, so a long log takes no more room than a short one."""
    few = Phone(make_farm("Small", "Etc/UTC", ben.person), ben.person)
    record(few, few.record("doe", doe, {"name": "Ivy"}))
    # One more for what was taken back or put right, by the five hundred.
    assert (questions(few.farm.pk), questions(farm.phone.farm.pk)) == (4, 5)
    seen: list[int] = []
    for day in days(farm.phone.farm.pk, []):
        seen.append(len(day.feedings))
    assert sum(seen) == sum(event["kind"] == "fed" for event in farm.events)
    assert max(seen) <= len(farm.pens)


def season(n: int) -> Season:
    kid = Kidding(f"{n:036d}", f"{2000 + n % 30}-04-01", 2, 2, 0, "2025-11-03", 150, 1, 2, 6500)
    phases = {name: Fed(100, 90, 180_000, 45_000, 90_000) for name in ("early", "late", "fresh")}
    return Season(kid, phases, kid.bred_on, 9, 21_600, {"bred": 300, "dry": 300, "kid": 275}, 1)


def test_what_goes_to_the_phones_is_bounded_however_many_have_kidded() -> None:
    some = [season(n) for n in range(3000)]
    view = {"does": {one.kidding.doe: {"f": {"size": "mini"}} for one in some}, "kids": {}}
    doc = years_document(view, some, {}, {}, TODAY.isoformat())
    assert (doc["kiddings"], len(doc["rows"]), len(doc["years"]), len(doc["lines"])) == (3000, 400, 20, 60)
    assert sum(row["sums"][0] for row in doc["lines"]) == 60
    assert len(canonical(doc)) < 110_000
