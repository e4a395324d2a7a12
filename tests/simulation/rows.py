"""One doe on one evening: what was true, and what the phone said."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from .days import WARM_UP_D
from .keeper import Keeper
from .sample import GOOD
from .truth.goat import Goat

WEEK_D, SHORT_PM = 7, 850
FRESH_DIM, LATE_GEST = 21, 100
# kJ per kg dry matter of good hay alone, and with the grain that is safe near kidding and in milk: judgement.
GOOD_HAY_KJ, WITH_GRAIN_KJ, CLOSE_UP_D = 9200.0, 9900.0, 25


@dataclass(frozen=True, slots=True)
class Row:
    """Ratios are permille. `could`: against the lower of need and her appetite of her ration; `today` one day's;
    `dense` against the lower of need and her appetite of good hay, with grain where that is safe;
    `short_d` how many days running, with this one, that was under what counts as truly short."""

    farm: str
    doe: str
    day: int
    state: str
    regime: str
    good: bool
    scored: bool
    gest: int
    dim: int
    kg: float
    condition: float
    true_pm: int
    could_pm: int
    today_pm: int
    dense_pm: int
    short_d: int
    pm: int
    lo: int
    hi: int
    need_pm: int
    st: str
    days: int
    code: str
    witness: str
    in_pen: bool
    pen: str
    pen_code: str
    apart: bool


def state_of(doe: Goat, day: int) -> str:
    gest, dim = doe.gest(day), doe.dim(day)
    if dim >= 0:
        return "fresh" if dim <= FRESH_DIM and gest < 0 else "in milk, carrying" if gest >= 0 else "in milk"
    late = gest >= LATE_GEST
    if doe.first:
        return "first, late" if late else "first, early"
    return "dry, late" if late else "dry, early" if gest >= 0 else "open"


def row(keeper: Keeper, doe: Goat, day: int, said: dict[str, Any]) -> Row:
    pen = keeper.pens[keeper.pen_of[doe.name]]
    result = said["does"][doe.name]
    line, prompt = result["lines"].get("me", {}), result["prompt"] or {"code": "", "in_pen": False, "args": {}}
    over_pen = (said["pens"].get(pen.id) or {}).get("prompt") or {"code": ""}
    first, last = week(doe, day)
    eaten, need = sum(doe.eaten_kj[first:last]), sum(doe.need_kj[first:last])
    could = sum(could_kj(doe, k) for k in range(first, last))
    stated = line["need"] / max(1, line["days"]) if line else 0
    return Row(
        farm=keeper.farm.seed,
        doe=doe.name,
        day=day,
        state=state_of(doe, day),
        regime=pen.regime,
        good=pen.regime == GOOD,
        scored=bool(keeper.farm.habits.score_every_d),
        gest=doe.gest(day),
        dim=doe.dim(day),
        kg=doe.kg,
        condition=doe.condition,
        true_pm=true_pm(doe, day),
        could_pm=round(1000 * eaten / could),
        today_pm=round(1000 * doe.eaten_kj[last - 1] / could_kj(doe, last - 1)),
        dense_pm=round(1000 * eaten / sum(dense_kj(doe, k) for k in range(first, last))),
        short_d=short_days(doe, last - 1),
        pm=line.get("pm", 0),
        lo=line.get("lo", -1),
        hi=line.get("hi", -1),
        need_pm=round(1000 * stated / (need / (last - first))),
        st=line.get("st", ""),
        days=line.get("days", 0),
        code=prompt["code"],
        witness=str(prompt["args"].get("witness", "")),
        in_pen=prompt["in_pen"],
        pen=pen.id,
        pen_code=over_pen["code"],
        apart=bool(prompt["args"].get("apart")),
    )


def week(doe: Goat, day: int) -> tuple[int, int]:
    """Places of the last seven days in her lists, from her kidding on."""
    last, kids = day + WARM_UP_D + 1, doe.kids_on()
    return max(last - WEEK_D, kids + WARM_UP_D if kids is not None and kids <= day else 0, 0), last


def true_pm(doe: Goat, day: int) -> int:
    first, last = week(doe, day)
    return round(1000 * sum(doe.eaten_kj[first:last]) / sum(doe.need_kj[first:last]))


def could_kj(doe: Goat, k: int) -> float:
    """What she could have got on a day: the lower of her need and her appetite of what she was fed."""
    density = doe.eaten_kj[k] / doe.eaten_kg[k] if doe.eaten_kg[k] else 0.0
    return max(1.0, min(doe.need_kj[k], doe.room_kg[k] * density) if density else doe.need_kj[k])


def short_days(doe: Goat, k: int) -> int:
    """How many days running she got less than what counts as truly short, the warm-up's days too."""
    found = 0
    while found <= k and 1000 * doe.eaten_kj[k - found] < SHORT_PM * could_kj(doe, k - found):
        found += 1
    return found


def dense_kj(doe: Goat, k: int) -> float:
    day = k - WARM_UP_D
    near = doe.dim(day) >= 0 or doe.gest(day) >= doe.carried_d - CLOSE_UP_D
    return min(doe.need_kj[k], doe.room_kg[k] * (WITH_GRAIN_KJ if near else GOOD_HAY_KJ))
