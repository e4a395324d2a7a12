"""Invented does at drying off, close-up and after kidding, and what befalls them, followed for four weeks each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from tests.support.act_farm import BARLEY, GRASS, LEGUME, barn
from tests.support.plan_farm import carrier, fresh, milker
from tests.support.some_does import MINIATURE, STANDARD, SomeDoes

FIRST: dict[str, Any] = {"kiddings_before": 0, "born_on": "2025-02-01"}
HEAVY: dict[str, Any] = {**STANDARD, "breed": "saanen"}


@dataclass
class Stretch:
    """A farm, whose page is followed, and what somebody sees or does there: `hap[day]` is called that morning."""

    does: SomeDoes
    who: str
    hap: dict[int, Callable[[SomeDoes, int], None]] = field(default_factory=dict)
    way: str = ""
    # the one plan that is put in, "" where all are
    only: str = ""


def kind(kg: int) -> dict[str, Any]:
    return MINIATURE if kg < 40 else HEAVY if kg >= 75 else STANDARD


def left_meal(does: SomeDoes, day: int) -> None:
    """As the page writes it: she left some, and her grain waits a day."""
    ev = does.log.intake("fern", does.on(day), "evening", "left_some", 30)
    does.log.add(
        "freeze", "fern", {"until_on": does.on(day + 1), "grain_out": False, "of": ev}, does.on(day), "evening"
    )


def soft_dung(does: SomeDoes, day: int) -> None:
    seen = {"temp_c_x10": 0, "bhb_x10": 0, "urine": "", "dung": "loose"}
    _waits(does, day, seen)


def fever(does: SomeDoes, day: int) -> None:
    _waits(does, day, {"temp_c_x10": 406, "bhb_x10": 0, "urine": "", "dung": ""})


def _waits(does: SomeDoes, day: int, seen: dict[str, Any]) -> None:
    ev = does.log.add("checkup", "fern", seen, does.on(day), "morning")
    does.log.add(
        "freeze", "fern", {"until_on": does.on(day + 1), "grain_out": False, "of": ev}, does.on(day), "morning"
    )


def new_bag(does: SomeDoes, day: int) -> None:
    does.log.add("new_bag", "farm", {"feed": BARLEY}, does.on(day))


def kids(born: int = 2) -> Callable[[SomeDoes, int], None]:
    def come(does: SomeDoes, day: int) -> None:
        does.log.add("kidded", "fern", {"born": born, "alive": born}, does.on(day))

    return come


def milk(g: int) -> Callable[[SomeDoes, int], None]:
    def weighed(does: SomeDoes, day: int) -> None:
        for slot in ("morning", "evening"):
            does.log.add("milk", "fern", {"g": g // 2, "fat_x100": 0}, does.on(day), slot)

    return weighed


def dry(
    kg: int, gest: int, *, milk_g: int = 0, score: int = 300, hap: Any = None, way: str = "", **more: Any
) -> Stretch:
    does = barn()
    milk_g = milk_g or 25 * kg
    milker(
        does,
        "fern",
        kg,
        gest,
        "north",
        milk_g=milk_g,
        grain_g=min(16 * kg, milk_g // 3),
        hay_g=42 * kg,
        **{**kind(kg), **more},
    )
    does.scored("fern", score, -5)
    return Stretch(does, "fern", hap or {}, way)


def close(kg: int, gest: int, born: int, *, score: int = 300, grain: int = 0, hap: Any = None, **more: Any) -> Stretch:
    does = barn()
    carrier(does, "fern", kg, gest, born, "north", hay_g=36 * kg, **{**kind(kg), **more})
    if grain:
        does.given("fern", **{BARLEY: grain})
    does.scored("fern", score, -5)
    return Stretch(does, "fern", hap or {})


def ramp(
    kg: int, since: int, *, grain: int = 0, milk_g: int = 0, hap: Any = None, score: int = 300, **more: Any
) -> Stretch:
    does = barn()
    fresh(does, "fern", kg, since, "north", grain_g=grain or 5 * kg, hay_g=46 * kg, **{**kind(kg), **more})
    does.scored("fern", score, -5)
    weighed = {day: milk(milk_g) for day in (4, 11, 18, 25)} if milk_g else {}
    return Stretch(does, "fern", {**weighed, **(hap or {})})


def exposed(does: SomeDoes, gest: int, days: int) -> None:
    """All that is known of her date is when the buck was in."""
    span = {"from_on": does.on(-gest), "to_on": does.on(days - gest), "how": "pen", "buck": ""}
    does.log.add("bred", "fern", span, does.on(-gest))


def by_exposure(of: str) -> Stretch:
    does = barn()
    gest = 100 if of == "dry" else 140
    does.doe("fern", 60, 0, 0, "north", **STANDARD)
    exposed(does, gest, 30)
    if of == "dry":
        does.log.add("kidded", "fern", {"born": 2, "alive": 2}, does.on(-gest - 120))
        for day in range(-42, 0, 7):
            milk(2000)(does, day)
        does.given("fern", **{BARLEY: 600})
        does.given("north", **{GRASS: 1700, LEGUME: 850})
    else:
        does.given("north", **{GRASS: 1700, LEGUME: 400})
    does.scored("fern", 300, -5)
    return Stretch(does, "fern")


def shared(of: str, hay_g: int = 0) -> Stretch:
    """At one feeder: a milker to be dried off or one near kidding, one dry and early, one fresh, one thin and late."""
    does = barn()
    if of == "dry":
        milker(does, "fern", 60, 76, "north", milk_g=1800, grain_g=600, hay_g=2400, **STANDARD)
    elif of == "close_up":
        carrier(does, "fern", 60, 126, 3, "north", hay_g=2000, **STANDARD)
    else:
        fresh(does, "fern", 60, 2, "north", grain_g=300, hay_g=2600, **STANDARD)
    does.doe("clover", 60, 55, 2, "north", **STANDARD)
    does.doe("hazel", 45, 118, 2, "north", **STANDARD)
    fresh(does, "olive", 60, 40, "north", grain_g=800, hay_g=2600, **STANDARD)
    for mate, x100 in (("clover", 350), ("hazel", 275), ("olive", 275)):
        does.scored(mate, x100, -6)
    hay = hay_g or 8600
    # one plan for the feeder, not one for each who came to it
    does.log.events = [e for e in does.log.events if (e["kind"], e["subject"]) != ("ration", "north")]
    does.given("north", **{GRASS: hay * 3 // 4, LEGUME: hay // 4})
    return Stretch(does, "fern")


def held(of: str, until: int, *more: int) -> Stretch:
    """A drug hold of milk that runs on so many days from today."""
    one = dry(60, 82) if of == "dry" else close(60, 128, 2)
    data = {
        "product": "tube",
        "why": "udder",
        "told": "",
        "who": "vet",
        "carries": [],
        "milk_until": one.does.on(until),
        "meat_until": "",
    }
    one.does.log.add("treatment", "fern", data, one.does.on(-1))
    return one


def old_scoop(of: str) -> Stretch:
    one = dry(60, 76) if of == "dry" else close(60, 126, 2, grain=100) if of == "close_up" else ramp(60, 2)
    one.hap = {0: new_bag}
    return one


def weighed_late(of: str) -> Stretch:
    """A new bag, and two weeks later somebody weighs a fill of it."""
    one = old_scoop(of)
    one.hap[14] = lambda does, day: does.log.add(
        "calibration", "tin", {"of": "scoop", "fills_g": [165] * 10, "lot": ""}, does.on(day)
    )
    return one


def no_scoop(of: str) -> Stretch:
    """Nobody ever weighed what the grain is given by."""
    one = close(60, 126, 2) if of == "close_up" else ramp(60, 2)
    one.does.log.events = [e for e in one.does.log.events if e["kind"] not in ("scoop",) and e["subject"] != "tin"]
    return one


STRETCHES: dict[str, Callable[[], Stretch]] = {
    "dry miniature": lambda: dry(30, 66),
    "dry miniature fat": lambda: dry(32, 70, score=400, milk_g=500),
    "dry miniature late": lambda: dry(30, 110, milk_g=900),
    "dry standard": lambda: dry(60, 72),
    "dry standard heavy milker": lambda: dry(65, 78, milk_g=4200),
    "dry heavy breed thin": lambda: dry(82, 74, milk_g=3000, score=225),
    "dry heavy breed late": lambda: dry(82, 104, milk_g=3200),
    "dry low milker": lambda: dry(50, 80, milk_g=500),
    "dry first lactation": lambda: dry(48, 75, kiddings_before=1, born_on="2024-02-01"),
    "dry at once": lambda: dry(60, 80, way="abrupt"),
    "dry off feed": lambda: dry(60, 80, hap={5: left_meal}),
    "dry soft dung": lambda: dry(60, 80, hap={3: soft_dung}),
    "dry by exposure": lambda: by_exposure("dry"),
    "dry at a shared feeder": lambda: shared("dry"),
    "dry at a tight shared feeder": lambda: shared("dry", 7000),
    "dry hold past due": lambda: held("dry", 75),
    "dry old scoop": lambda: old_scoop("dry"),
    "close single": lambda: close(60, 134, 1),
    "close twins": lambda: close(60, 122, 2),
    "close triplets": lambda: close(60, 122, 3),
    "close triplets thin": lambda: close(60, 120, 3, score=225),
    "close triplets late": lambda: close(60, 142, 3),
    "close miniature twins": lambda: close(30, 120, 2),
    "close miniature triplets": lambda: close(28, 120, 3),
    "close miniature fat single": lambda: close(32, 132, 1, score=400),
    "close heavy breed twins": lambda: close(85, 124, 2),
    "close heavy breed fat": lambda: close(85, 126, 2, score=400),
    "close first freshener": lambda: close(45, 122, 1, **FIRST),
    "close on grain already": lambda: close(60, 128, 2, grain=300),
    "close off feed": lambda: close(60, 124, 2, hap={6: left_meal}),
    "close soft dung": lambda: close(60, 124, 2, hap={6: soft_dung, 7: soft_dung}),
    "close by exposure": lambda: by_exposure("close_up"),
    "close at a shared feeder": lambda: shared("close_up"),
    "close at a tight shared feeder": lambda: shared("close_up", 7000),
    "close hold into milk": lambda: held("close_up", 26),
    "close old scoop": lambda: old_scoop("close_up"),
    "close no scoop": lambda: no_scoop("close_up"),
    "close to kidding and on": lambda: close(60, 138, 2, hap={12: kids(2), 16: milk(2600), 23: milk(3400)}),
    "close kids early": lambda: close(60, 130, 3, hap={11: kids(3), 15: milk(2600), 22: milk(3400)}),
    "fresh standard": lambda: ramp(60, 1, milk_g=3000),
    "fresh heavy milker": lambda: ramp(80, 2, milk_g=5500),
    "fresh low milker": lambda: ramp(55, 2, milk_g=1200),
    "fresh miniature": lambda: ramp(30, 2, milk_g=1500),
    "fresh no grain before": lambda: ramp(60, 1, grain=2, milk_g=3000),
    "fresh first freshener": lambda: ramp(45, 2, milk_g=2000, kiddings_before=0, born_on="2025-02-01"),
    "fresh fat": lambda: ramp(60, 2, milk_g=3000, score=400),
    "fresh thin": lambda: ramp(60, 2, milk_g=4000, score=200),
    "fresh off feed": lambda: ramp(60, 2, milk_g=3000, hap={5: left_meal}),
    "fresh fever": lambda: ramp(60, 2, milk_g=3000, hap={5: fever}),
    "fresh soft dung": lambda: ramp(60, 2, milk_g=3000, hap={8: soft_dung}),
    "fresh at a shared feeder": lambda: shared("fresh"),
    "fresh at a tight shared feeder": lambda: shared("fresh", 7000),
    "fresh old scoop": lambda: old_scoop("fresh"),
    "fresh scoop weighed late": lambda: weighed_late("fresh"),
    "close scoop weighed late": lambda: weighed_late("close_up"),
    "fresh no scoop": lambda: no_scoop("fresh"),
}
