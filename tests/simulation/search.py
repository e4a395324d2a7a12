"""An independent search for a safe act: what she lacks by the phone's own line, met by what is on the farm.

Its arithmetic is its own and so are its limits (limits.py); it knows feed by its true values.
"""

from __future__ import annotations

from .diet import NDF, Diet, diet, feed_of
from .keeper import Keeper
from .limits import CA_P, DAY_G_KG, DAY_MILK_G_KG, FORAGE_G_KG, LATE_GEST, MEAL_G, MEAL_G_KG, MILK_SHARE, SHARE, STEP_G
from .truth.body import room_kg
from .truth.feeds import Feed
from .truth.goat import Goat

# grain reaches its amount in a fortnight by a raise each third day, a swap of hay is through in ten days
RAISES = 4
# of a hay, at least so much better before it is worth trading
BETTER = 1.04
# of a hay she gets, so much at most gives way to another
SWAPPED = 0.8


def holds(feed: Feed, of: str) -> float:
    """Per kg of dry matter, in the phone's units: kJ, or mg."""
    return {"me": feed.kj, "cp": 1000 * feed.cp, "ca": 1000 * feed.ca, "p": 1000 * feed.p}[of]


def safe_act(keeper: Keeper, doe: Goat, day: int, of: str, gap: float) -> str:
    """What would bring her that much more a day (less where negative); "" where nothing on hand does."""
    if not gap:
        return ""
    now = diet(keeper, doe, keeper.plan.steps, day)
    ways = (fill, own_hay, grain_up, hay_and_grain) if gap > 0 else (grain_down, plainer)
    return next((way.__name__ for way in ways if way(keeper, doe, day, now, of, abs(gap))), "")


def hays(keeper: Keeper) -> list[Feed]:
    return [feed for feed in keeper.farm.feeds.values() if feed.sort != "grain"]


def grain(keeper: Keeper, now: Diet) -> Feed | None:
    """Where a bag of it is known to be open, or she gets some."""
    feed = keeper.farm.feeds["grain"]
    known = any(e["kind"] == "new_bag" for e in keeper.log.events) or now.kg(feed.id) > 0
    return feed if known else None


def room(keeper: Keeper, doe: Goat, day: int, now: Diet) -> float:
    """Dry kg she would eat beyond what she is given."""
    return room_kg(doe, keeper.farm.land, day, NDF) - sum(now.kg(name) for name in now.feeds)


def fill(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    """More of the hay she gets."""
    free = room(keeper, doe, day, now)
    return any(free > 0 and gap / holds(feed, of) <= free for feed in hays(keeper) if now.kg(feed.id) > 0.1)


def own_hay(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    """Another hay in her own pan, beside what she eats or in its place."""
    free = max(0.0, room(keeper, doe, day, now))
    for better in hays(keeper):
        for old in hays(keeper):
            if old is not better and now.kg(old.id) > 0 and holds(better, of) > BETTER * holds(old, of):
                beside = min(free, gap / holds(better, of))
                left = gap - beside * holds(better, of)
                if left / (holds(better, of) - holds(old, of)) <= SWAPPED * now.kg(old.id):
                    return True
    return False


def grain_up(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    feed = grain(keeper, now)
    if feed is None or of == "ca":
        return False
    had, milk = now.kg(feed.id), doe.dim(day) >= 0
    hay = sum(now.kg(h.id) for h in hays(keeper))
    worth = sum(now.kg(h.id) * holds(h, of) for h in hays(keeper)) / hay if hay else 0.0
    free = max(0.0, room(keeper, doe, day, now))
    beside = min(free, gap / holds(feed, of))
    left = gap - beside * holds(feed, of)
    if left > 0 and holds(feed, of) <= worth:
        return False
    swapped = left / (holds(feed, of) - worth) if left > 0 else 0.0
    more, hay = beside + swapped, hay - swapped
    whole = had + more
    return (
        more / feed.dm * 1000 <= RAISES * STEP_G[doe.size]
        and whole / feed.dm * 500 <= min(MEAL_G, MEAL_G_KG * doe.kg)
        and 1000 * whole <= (DAY_MILK_G_KG if milk else DAY_G_KG) * doe.kg
        and whole <= (MILK_SHARE if milk else SHARE) * (whole + hay)
        and 1000 * hay >= FORAGE_G_KG * doe.kg
        and minerals_kept(keeper, now, {feed.id: more})
    )


def hay_and_grain(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    """The best hay she can be got onto, and grain for the rest."""
    best = max(hays(keeper), key=lambda feed: holds(feed, of))
    kg = {name: now.kg(name) for name in now.feeds}
    filled = max(0.0, room(keeper, doe, day, now))
    for old in hays(keeper):
        if old is not best:
            filled += SWAPPED * kg.get(old.id, 0.0)
            kg[old.id] = (1 - SWAPPED) * kg.get(old.id, 0.0)
    kg[best.id] = kg.get(best.id, 0.0) + filled
    then = Diet({}, kg, now.meals_g, now.hay_before_her)
    gained = sum((amount - now.kg(name)) * holds(feed_of(keeper, name), of) for name, amount in kg.items())
    return gained < gap and grain_up(keeper, doe, day, then, of, gap - gained)


def minerals_kept(keeper: Keeper, now: Diet, more: dict[str, float]) -> bool:
    kg = {name: now.kg(name) + more.get(name, 0.0) for name in {*now.feeds, *more}}
    ca, p = (sum(k * getattr(feed_of(keeper, name), part) for name, k in kg.items()) for part in ("ca", "p"))
    return bool(ca >= CA_P * p)


def grain_down(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    feed = keeper.farm.feeds["grain"]
    return doe.gest(day) < LATE_GEST and 0 < gap / holds(feed, of) <= now.kg(feed.id)


def plainer(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    """A plainer hay in place of the richer."""
    late = doe.gest(day) >= LATE_GEST
    if late and of == "me":
        return False
    if len(keeper.pens[keeper.pen_of[doe.name]].does) > 1:
        return plain_pan(keeper, doe, day, now, of, gap)
    for rich in hays(keeper):
        for plain in hays(keeper):
            # late it must not take energy from her
            if holds(rich, of) > BETTER * holds(plain, of) and not (late and plain.kj < rich.kj):
                kg = gap / (holds(rich, of) - holds(plain, of))
                if kg <= now.kg(rich.id):
                    return True
    return False


def plain_pan(keeper: Keeper, doe: Goat, day: int, now: Diet, of: str, gap: float) -> bool:
    """At a shared feeder nothing rich can be kept from her alone: plain hay in her own pan first fills what room she
    has, and then stands in the place of the feeder's mix, not of what is rich in it."""
    shared, late = sum(now.shared.values()), doe.gest(day) >= LATE_GEST
    if not shared:
        return False
    mix, mix_kj = (sum(kg * holds(feed_of(keeper, f), x) for f, kg in now.shared.items()) / shared for x in (of, "me"))
    free = max(0.0, room(keeper, doe, day, now))
    return any(
        SWAPPED * shared * (mix - holds(plain, of)) - free * holds(plain, of) >= gap
        for plain in hays(keeper)
        if mix > holds(plain, of) and not (late and plain.kj < mix_kj)
    )
