"""One day of a farm: what is planned and confirmed, and what each doe truly eats of it and becomes."""

from __future__ import annotations

from .days import SLOTS
from .keeper import Keeper
from .sample import Pen
from .truth.body import appetite_kg, live, need_kj
from .truth.feeder import divide
from .truth.feeds import Feed
from .truth.goat import Goat

APPETITE_SD, FLAKE_SD = 0.03, 0.04  # from day to day: judgement


def live_day(keeper: Keeper, day: int) -> None:
    keeper.turns(day)
    keeper.replan(day)
    keeper.confirm(day)
    for pen in list(keeper.pens.values()):
        if pen.does:
            eat(keeper, pen, day)
    keeper.looks(day)


def dry_kg(keeper: Keeper, subject: str, day: int, sorts: bool) -> dict[str, float]:
    """Dry matter a day by feed of a subject's lines, forage or grain, as it truly weighs."""
    found = dict[str, float]()
    how, feeds = keeper.farm.habits, by_id(keeper)
    for slot in SLOTS:
        for name, g in keeper.plan.lines(subject, slot, day):
            feed = feeds[name]
            grain = feed.sort == "grain"
            if grain == sorts:
                found[name] = found.get(name, 0.0) + g / 1000 * feed.dm * (how.scoop if grain else how.flake)
    return found


def by_id(keeper: Keeper) -> dict[str, Feed]:
    return {feed.id: feed for feed in keeper.farm.feeds.values()}


def eat(keeper: Keeper, pen: Pen, day: int) -> None:
    """The stand first, then the feeder."""
    farm, rng, feeds = keeper.farm, keeper.rng, by_id(keeper)
    does = [keeper.doe(name) for name in pen.does]
    shake = rng.gauss(1, FLAKE_SD)
    offered = {name: kg * shake * (1 - farm.habits.waste) for name, kg in dry_kg(keeper, pen.id, day, False).items()}
    net = sum(offered.values())
    own, room = dict[str, dict[str, float]](), dict[str, float]()
    for doe in does:
        stand = {**dry_kg(keeper, doe.name, day, True), **dry_kg(keeper, doe.name, day, False)}
        ration = {name: stand.get(name, 0.0) + offered.get(name, 0.0) / len(does) for name in {*stand, *offered}}
        full = eats_of(keeper, doe, day, ration) * rng.gauss(1, APPETITE_SD)
        own[doe.name] = taken(stand, full)
        room[doe.name] = max(0.0, full - sum(own[doe.name].values()))
        doe.room_kg.append(full)
    hay = divide({doe.name: doe.rank for doe in does}, room, net)
    for doe in does:
        ate = dict(own[doe.name])
        for name, kg in offered.items():
            ate[name] = ate.get(name, 0.0) + (hay[doe.name] * kg / net if net else 0.0)
        settle(keeper, doe, day, sum(kg * feeds[name].kj for name, kg in ate.items()), sum(ate.values()))
    if net > 0:
        keeper.left_over(pen, day, 1 - sum(hay.values()) / net)


def taken(stand: dict[str, float], full: float) -> dict[str, float]:
    """What she eats of her own pan: all of it where it fits."""
    whole = sum(stand.values())
    part = min(1.0, full / whole) if whole else 1.0
    return {name: kg * part for name, kg in stand.items()}


def eats_of(keeper: Keeper, doe: Goat, day: int, ration: dict[str, float]) -> float:
    """Her appetite for a ration, by its energy and its forage's fibre."""
    feeds, whole = by_id(keeper), sum(ration.values())
    forage = {name: kg for name, kg in ration.items() if feeds[name].sort != "grain"}
    hay = sum(forage.values())
    ndf = sum(kg * feeds[name].ndf for name, kg in forage.items()) / hay if hay else 600.0
    kj = sum(kg * feeds[name].kj for name, kg in ration.items()) / whole if whole else 8500.0
    return appetite_kg(doe, keeper.farm.land, day, ndf, kj)


def settle(keeper: Keeper, doe: Goat, day: int, kj: float, kg: float) -> None:
    need = need_kj(doe, keeper.farm.land, day)
    doe.eaten_kj.append(kj)
    doe.eaten_kg.append(kg)
    doe.need_kj.append(need)
    live(doe, keeper.farm.land, kj - need)
