"""What the demo farm promises to show, whenever it is made. Every prompt comes out of the real evaluation."""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from herd.demo.cast import FAMILY, FARM, HELPER, OWNER, SECOND_FARM
from herd.demo.make import make_demo
from herd.demo.passwords import still_good
from herd.models import Event, Farm, Folded, Membership, OutlookRow, Person, Quarantine
from herd.outlook.days import shift
from herd.outlook.evaluate import evaluate
from herd.services.bootstrap import bootstrap
from herd.services.clock import day_of, now_ms
from herd.services.rebuild import rebuild
from herd.services.wire import decode
from herd.state.fold import fold
from herd.state.order import effective
from tests.logs import folded, outlooks, replayed

pytestmark = pytest.mark.django_db
ZONE = "Europe/Vienna"
SEED = 20
CALM = {"", "steps_ahead", "raise_will_wait"}
SPEAKING = {
    "Yarrow": "energy_short",
    "Mallow": "calcium_short",
    "Clover": "energy_over",
    "Sedge": "record_next",
}


def instant(day: str, clock: str) -> int:
    return int(datetime.fromisoformat(f"{day}T{clock}:00").replace(tzinfo=ZoneInfo(ZONE)).timestamp() * 1000)


def made(folder: Path, now: int, seed: int = SEED) -> Farm:
    assert make_demo(folder, ZONE, seed, now)
    return Farm.objects.get(name=FARM)


def opened(farm: Farm, day: str) -> tuple[dict[str, Any], dict[str, Any]]:
    view, docs = fold(replayed(farm)), outlooks(farm)
    return view, evaluate(view, docs, docs.pop(""), day)


def speaking(view: dict[str, Any], results: dict[str, Any]) -> dict[str, str]:
    """Before the morning's chores Marigold has left one meal; so near kidding the second is the vet's."""
    marigold = next(doe for doe, row in view["does"].items() if row["f"]["name"] == "Marigold")
    meals = results["does"][marigold]["off_feed"]["args"]["meals"]
    return {**SPEAKING, "Marigold": "off_feed_vet" if meals > 1 else "off_feed_now"}


def said(view: dict[str, Any], results: dict[str, Any]) -> dict[str, str]:
    return {
        view["does"][doe]["f"]["name"]: result["prompt"]["code"] if result["prompt"] else ""
        for doe, result in results["does"].items()
    }


@pytest.mark.parametrize(
    ("day", "clock", "seed"),
    [
        ("2028-02-29", "09:00", SEED),
        ("2027-01-01", "09:00", 7),
        ("2026-03-29", "04:10", SEED),
        ("2026-10-25", "12:30", 1),
        ("2026-11-25", "17:59", SEED),
        ("2026-11-28", "18:07:20", SEED),
        ("2026-12-31", "23:40", SEED),
    ],
    ids=[
        "leap day",
        "new year",
        "clocks forward, before chores",
        "clocks back",
        "in the middle of chores",
        "fed, and the exception half a minute away",
        "last evening of a year",
    ],
)
def test_it_opens_as_promised(tmp_path: Path, day: str, clock: str, seed: int) -> None:
    view, results = opened(made(tmp_path, instant(day, clock), seed), day)
    codes = said(view, results)
    assert len(codes) == 15
    standing = {view["does"][doe]["f"]["name"]: result["standing"] for doe, result in results["does"].items()}
    assert standing.pop("Rafter") == "buck"
    assert set(standing.values()) == {"ok"}
    promised = speaking(view, results)
    assert {name: codes[name] for name in promised} == promised
    # at Yarrow's feeder, where less is put out than some weeks before
    assert codes["Teasel"] in {*CALM, "energy_short"}
    assert {code for name, code in codes.items() if name not in {*promised, "Teasel"}} <= CALM
    shared = {view["pens"][pen]["f"]["name"]: result["prompt"] for pen, result in results["pens"].items()}
    assert {(name, said["code"]) for name, said in shared.items() if said} <= {("Straw barn", "energy_short")}


def test_it_opens_as_promised_today_also_on_a_new_phone(tmp_path: Path) -> None:
    now = now_ms()
    farm, today = made(tmp_path, now), day_of(now, ZONE).isoformat()
    view, results = opened(farm, today)
    promised = speaking(view, results)
    assert {name: said(view, results)[name] for name in promised} == promised
    start = bootstrap(farm.id)
    events = [effective(decode(bytes(row["ev"])), row["eff"]) for row in start["events"]]
    short = fold(events)
    docs = outlooks(farm)
    assert len(events) < Event.objects.filter(farm=farm).count()
    assert evaluate(short, docs, docs.pop(""), today) == results


def test_everything_recorded_was_taken_and_leaves_no_question(tmp_path: Path) -> None:
    farm = made(tmp_path, instant("2026-11-25", "15:00"))
    view, _ = opened(farm, "2026-11-25")
    assert (view["questions"], view["parked"]) == ([], [])
    assert not Quarantine.objects.exists()
    assert {pen["f"]["role"] for pen in view["pens"].values()} == {"milkers", "mixed", "first", "close_up", "other"}
    assert len({event.device for event in Event.objects.filter(farm=farm)}) == 3
    kinds = set(Event.objects.filter(farm=farm).values_list("kind", flat=True))
    assert kinds >= {"fed", "intake", "score", "weight", "milk", "udder", "signs", "bred", "preg_check", "moved"}
    assert kinds >= {"contact", "shelf", "scoop", "calibration", "new_bag", "jar", "treatment", "freeze", "triage"}
    assert "pack" in kinds
    first = min(feeding["on"] for feeding in view["feedings"])
    assert first == shift("2026-11-25", -90)


def test_the_barn_has_something_of_everything(tmp_path: Path) -> None:
    today = "2026-11-25"
    view, results = opened(made(tmp_path, instant(today, "15:00")), today)
    does = {doe["f"]["name"]: doe for doe in view["does"].values()}
    by_name = {view["does"][doe]["f"]["name"]: result for doe, result in results["does"].items()}
    assert {one["f"]["role"] for one in view["contacts"].values()} == {"owner", "family", "vet", "neighbour"}
    assert all(one["f"]["phone"].startswith("555-01") for one in view["contacts"].values())
    assert {one["f"]["card"] for one in view["shelf"].values()} == {"milk_fever", "toxemia"}
    weighed = {view["scoops"][scoop]["f"]["name"]: rows[-1] for scoop, rows in view["calibrations"].items()}
    bags = {view["scoops"][scoop]["f"]["feed"]: view["scoops"][scoop]["f"]["name"] for scoop in view["scoops"]}
    stale = {
        bags[feed] for feed, opened in view["bags"].items() if opened[-1]["happened"] > weighed[bags[feed]]["happened"]
    }
    assert (set(weighed), stale) == ({"Blue scoop", "Tin cup"}, {"Blue scoop"})
    held = {name: doe["treatments"][-1]["milk_until"] >= today for name, doe in does.items() if doe["treatments"]}
    assert held == {"Bramble": True, "Fennel": False, "Teasel": False}
    assert [(jar["f"]["done_on"], jar["f"]["thrown"]) for jar in view["jars"].values()] == [("", False)]
    marigold = by_name["Marigold"]
    assert marigold["freeze"]["days_left"] == 3
    assert does["Marigold"]["freeze"]["of"] in {one["ev"] for one in view["intakes"]}
    assert marigold["off_feed"]["looked"]["new_feed"] == "no"
    daily = {name for name, result in by_name.items() if result["daily"]}
    assert daily == {"Teasel", "Yarrow", "Dot", "Hazel"}
    assert {name: by_name[name]["tapped"] for name in daily} == {
        "Teasel": [],
        "Hazel": [],
        "Yarrow": ["morning"],
        "Dot": ["morning"],
    }


def test_rebuilt_equals_live(tmp_path: Path) -> None:
    farm = made(tmp_path, now_ms())
    live, docs = folded(farm), outlooks(farm)
    Folded.objects.filter(farm=farm).delete()
    OutlookRow.objects.filter(farm=farm).delete()
    rebuild(farm.id)
    assert folded(farm) == live
    assert {doe: without_rev(doc) for doe, doc in outlooks(farm).items()} == {
        doe: without_rev(doc) for doe, doc in docs.items()
    }


def without_rev(doc: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in doc.items() if key != "rev"}


def test_where_a_farm_is_nothing_is_made(tmp_path: Path) -> None:
    made(tmp_path, instant("2026-11-25", "15:00"))
    count, passwords = Event.objects.count(), still_good(tmp_path)
    assert not make_demo(tmp_path, ZONE, SEED, now_ms())
    assert (Event.objects.count(), still_good(tmp_path), Farm.objects.count()) == (count, passwords, 2)


def test_one_seed_gives_one_history(tmp_path: Path) -> None:
    now = instant("2026-11-25", "15:00")
    before = [(e.kind, e.on, e.happened_ms, e.hlc) for e in Event.objects.filter(farm=made(tmp_path, now))]
    Farm.objects.all().delete()
    Person.objects.all().delete()
    assert [(e.kind, e.on, e.happened_ms, e.hlc) for e in Event.objects.filter(farm=made(tmp_path, now))] == before


def test_people_can_sign_in_until_they_choose_a_password_of_their_own(tmp_path: Path) -> None:
    farm = made(tmp_path, instant("2026-11-25", "15:00"))
    roles = dict(Membership.objects.filter(farm=farm).values_list("person__name", "role"))
    assert roles == {OWNER: "owner", FAMILY: "family", HELPER: "helper"}
    second = Farm.objects.get(name=SECOND_FARM)
    assert (second.seq, list(second.memberships.values_list("person__name", flat=True))) == (0, [OWNER])
    assert set(still_good(tmp_path)) == set(roles)
    helper = Person.objects.get(name=HELPER)
    helper.set_password("a word of her own")
    helper.save()
    assert set(still_good(tmp_path)) == {OWNER, FAMILY}
    assert (tmp_path / "demo_passwords.json").stat().st_mode & 0o077 == 0


def test_nothing_in_it_lies_ahead(tmp_path: Path) -> None:
    now = instant("2026-11-25", "15:00")
    farm = made(tmp_path, now)
    assert max(event["happened"] for event in replayed(farm)) <= now
    assert date.fromisoformat(max(event["on"] for event in replayed(farm))) == date(2026, 11, 25)
