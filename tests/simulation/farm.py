"""One farm lived through day by day, and what the product said beside what was true."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

from .barn import feeder
from .body import appetite_kg, live, need_kj
from .keeper import DRY_OFF, GRAIN_DM, GRAIN_KJ, HAY, PENS, RICH_DM, RICH_HAY, RICH_KJ, Keeper
from .phone import Phone
from .regimes import Regime, regime
from .truth import Goat, herd, land

DAYS, WARM_UP_D, DOES = 130, 10, 7
ILL_A_DAY = 0.003
# kJ/kg DM: what the appetite she had could have got her from good hay, and with the grain that is safe near kidding
# and in milk
GOOD_HAY_KJ, WITH_GRAIN_KJ, CLOSE_UP_D = 9200.0, 9900.0, 25


@dataclass(frozen=True, slots=True)
class Row:
    """One doe on one evening. Ratios are permille; `could` is true supply against what she could have eaten of it."""

    farm: int
    regime: str
    doe: str
    day: int
    gest: int
    kind: str
    phase: int
    first: bool
    small: bool
    true_pm: int
    could_pm: int
    pm: int
    lo: int
    hi: int
    need_pm: int
    state: str
    ahead: str
    days: int
    code: str
    in_pen: bool
    condition: float


def run_farm(
    seed: int, farm: int, name: str, known: frozenset[str] = frozenset(), days: int = DAYS, every: int = 1
) -> list[Row]:
    """The same seed and farm give the same land and does in every regime; the phone is looked at every so many days."""
    born = Random(f"{seed}|{farm}")
    ground, does = land(born, known), herd(born, DOES, known)
    how = regime(Random(f"{seed}|{farm}|{name}"), name)
    keeper = Keeper(ground, does, Random(f"{seed}|{farm}|keeper"), how, known)
    phone, rows = Phone(), list[Row]()
    for day in range(days):
        whole = live_day(keeper, how, day)
        for turn, doe in enumerate(does):
            keeper.look(doe, day, turn)
        if day % every:
            continue
        said = phone.look(keeper.log.events, day, keeper.on(day))
        for doe in does:
            edge = said["does"][doe.name]["band"]
            doe.band_lo = edge[0] / 100 if edge else 2.75
            if day >= WARM_UP_D:
                rows.append(row(keeper, doe, farm, name, day, whole, said["does"][doe.name]))
    return rows


def live_day(keeper: Keeper, how: Regime, day: int) -> dict[str, bool]:
    """Dry-offs and kiddings, the plan, what each truly eats, and what is tapped."""
    for doe in keeper.does:
        doe.dim += doe.dim >= 0
        gest = keeper.gest(doe, day)
        if doe.dim >= 0 and doe.kidded_on < 0 and gest >= DRY_OFF[doe.size]:
            keeper.dry_off(doe, day)
        elif gest >= doe.length_d:
            keeper.kidded(doe, day)
    keeper.replan(day)
    whole = keeper.confirm(day)
    for pen in PENS:
        eat(keeper, pen, how, day)
    return whole


def eat(keeper: Keeper, pen: str, how: Regime, day: int) -> None:
    land, rng, does = keeper.land, keeper.rng, keeper.members(pen)
    stand, own_hay, room = dict[str, float](), dict[str, float](), dict[str, float]()
    for doe in does:
        if day > doe.ill_until and rng.random() < ILL_A_DAY:
            doe.ill_until, doe.ill_share = day + rng.randint(0, 2), rng.uniform(0.3, 0.7)
        share = doe.ill_share if day <= doe.ill_until else 1.0
        full = appetite_kg(doe, keeper.gest(doe, day), keeper.milk(doe, day)) * share * rng.gauss(1, 0.03)
        stand[doe.name] = min(full, 2 * doe.grain_g / 1000 * GRAIN_DM * land.scoop * share)
        own_hay[doe.name] = min(full - stand[doe.name], 2 * doe.extra_g / 1000 * RICH_DM * land.flake)
        room[doe.name] = max(0.0, full - stand[doe.name] - own_hay[doe.name])
        if day <= doe.ill_until:
            keeper.ill(doe, day)
    own, rich = (keeper.offered_kg(pen, feed) * land.flake * rng.gauss(1, 0.04) for feed in (HAY, RICH_HAY))
    net = own + rich
    hay = feeder(does, room, net)
    if net > 0:
        keeper.left_over(pen, day, 1 - sum(hay.values()) / net)
    own_kj, rich_kj = keeper.hay_kj * how.hay(day), RICH_KJ * land.rich_factor
    hay_kj = (own * own_kj + rich * rich_kj) / net if net else own_kj
    for doe in does:
        got = stand[doe.name] * GRAIN_KJ * land.grain_factor + own_hay[doe.name] * rich_kj
        got += hay[doe.name] * hay_kj
        settle(keeper, doe, day, got)


def settle(keeper: Keeper, doe: Goat, day: int, got: float) -> None:
    gest, milk = keeper.gest(doe, day), keeper.milk(doe, day)
    need = need_kj(doe, keeper.land, gest, milk, doe.band_lo, keeper.known)
    doe.eaten.append(got)
    doe.need.append(need)
    grain = milk > 0 or gest >= doe.length_d - CLOSE_UP_D
    doe.could.append(min(need, appetite_kg(doe, gest, milk) * (WITH_GRAIN_KJ if grain else GOOD_HAY_KJ)))
    live(doe, keeper.land, got - need_kj(doe, keeper.land, gest, milk, 0.0, keeper.known))


def kind_of(doe: Goat, pen: str) -> str:
    if doe.dim >= 0:
        return "milking"
    return "dry, own feed" if pen == "own" else "growing, shared hay" if doe.first else "dry, shared hay"


def row(keeper: Keeper, doe: Goat, farm: int, name: str, day: int, whole: dict[str, bool], said: dict[str, Any]) -> Row:
    pen = keeper.pens[doe.name]
    last = day if whole[pen] else day - 1
    span = slice(max(last - 6, doe.kidded_on, 0), last + 1)
    eaten, need, could = (sum(part[span]) for part in (doe.eaten, doe.need, doe.could))
    line = said["lines"].get("me", {})
    prompt = said["prompt"] or {"code": "", "in_pen": False}
    days = max(1, len(doe.need[span]))
    return Row(
        farm=farm,
        regime=name,
        doe=doe.name,
        day=day,
        gest=keeper.gest(doe, day),
        kind=kind_of(doe, pen),
        phase=said["phase"],
        first=doe.first,
        small=doe.size == "mini",
        true_pm=round(1000 * eaten / need) if need else 0,
        could_pm=round(1000 * eaten / could) if could else 0,
        pm=line.get("pm", 0),
        lo=line.get("lo", -1),
        hi=line.get("hi", -1),
        need_pm=round(1000 * line["need"] / max(1, line["days"]) / (need / days)) if line and need else 0,
        state=line.get("st", ""),
        ahead=line["ahead"]["st"] if line.get("ahead") else "",
        days=line.get("days", 0),
        code=prompt["code"],
        in_pen=prompt["in_pen"],
        condition=doe.condition,
    )
