"""Risk of toxemia and milk fever: compiled points and those of the day. Judgement that never replaces a sign."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from .balance import confirmed, day_sums, window
from .branches import slot_for
from .checkups import ketone_word
from .context import Context, days_between, shift
from .needs import last_score, milk_on
from .verdicts import dense

UPSET_D = 3
DOWN, REFUSED, SLOW = "not_up", ("refused", "not_up"), ("slow", "left_some")
# what somebody can change today; the rest is known so that she is looked at first
TODAY = ("calcium_short", "energy_short", "energy_well_short", "much_calcium", "sick", "slow_to_feed", "upset")
ACTS = {"toxemia": ("energy_well_short", "upset"), "milk_fever": ("calcium_short", "upset")}
Factors = dict[str, int]


def risk_of(ctx: Context, doe_id: str, result: dict[str, Any]) -> dict[str, Any] | None:
    """{"toxemia", "milk_fever"}, each None outside its weeks; None when she is in neither, or nothing was compiled."""
    part = ctx.outlooks[doe_id].get("risk") if result["standing"] == "ok" else None
    if not part or not part["points"]:
        return None
    to_go = days_between(ctx.day, result["due"]["mid"]) if result["gest"] >= 0 and result["due"] else None
    found = {
        "toxemia": _toxemia(ctx, doe_id, result, part, to_go),
        "milk_fever": _milk_fever(ctx, doe_id, result, part, to_go),
    }
    return found if any(found.values()) else None


def risk_word(result: dict[str, Any]) -> dict[str, Any] | None:
    """A prompt only where she is in the urgent band by points alone and something can be changed today."""
    for name in ACTS if result["risk"] else ():
        risk = result["risk"][name]
        if not risk or risk["band"] != "urgent" or risk["by_sign"] or risk["most"] not in ACTS[name]:
            continue
        # the calcium line says it, for her or for her pen
        if risk["most"] != "calcium_short" or result["lines"]["ca"]["st"] == "level":
            return {"code": f"risk_{name}", "args": {"what": risk["most"], "points": risk["points"]}}
    return None


def _toxemia(
    ctx: Context, doe_id: str, result: dict[str, Any], part: dict[str, Any], to_go: int | None
) -> dict[str, Any] | None:
    if to_go is None or to_go > part["edges"]["window_d"]:
        return None
    how, ketones = _how(result), ketone_word(ctx, doe_id)
    codes = [*_condition(ctx, doe_id, part), *_energy(ctx, doe_id, result, part)]
    codes += ["last_month"] if to_go <= part["edges"]["last_d"] else []
    codes += ["off_feed"] if how in REFUSED else ["slow_to_feed"] if how in SLOW else []
    codes += ["sick"] if (result["checkup"] or {"code": ""})["code"].startswith("temperature") else []
    codes += ["upset"] if _upset(ctx, doe_id) else []
    codes += [f"ketones_{ketones}"] if ketones else []
    find = [*(["ketones"] if ketones is None else []), *([] if part["counted"] else ["litter"])]
    find += ["score"] if _score(ctx, doe_id) is None else []
    factors = dict(part["toxemia"]) | {code: part["points"][code] for code in codes}
    return _weighed(factors, find, how in REFUSED or ketones == "vet", part["edges"])


def _milk_fever(
    ctx: Context, doe_id: str, result: dict[str, Any], part: dict[str, Any], to_go: int | None
) -> dict[str, Any] | None:
    points, edges, kidded = part["points"], part["edges"], ctx.view["does"][doe_id]["kidded"]
    carrying = to_go is not None
    since = days_between(kidded["on"], ctx.day) if kidded and not carrying else -1
    if not (result["gest"] >= edges["fever_from_gest"] if carrying else 0 <= since <= edges["fever_until_dim"]):
        return None
    factors = dict(part["milk_fever"])
    if carrying:
        factors |= dict(part["litter"])
    elif kidded["born"] >= 2:
        factors |= {"triplets": points["litter_three"]} if kidded["born"] > 2 else {"twins": points["litter_two"]}
    if not carrying and milk_on(ctx, doe_id, ctx.day) > edges["heavy_milk_g"]:
        factors["heavy_milk"] = points["heavy_milk"]
    if _upset(ctx, doe_id):
        factors["upset"] = points["feed_upset"]
    if ketone_word(ctx, doe_id) in ("act", "vet"):
        factors["toxemia_signs"] = points["toxemia_signs"]
    factors |= {code: points[code] for code in _calcium(ctx, doe_id, result, edges, to_go)}
    find = [*(["calcium"] if result["lines"]["ca"]["st"] == "unknown" else [])]
    find += ["litter"] if carrying and not part["counted"] else []
    return _weighed(factors, find, _how(result) == DOWN, edges)


def _weighed(factors: Factors, find: Iterable[str], by_sign: bool, edges: dict[str, int]) -> dict[str, Any]:
    present = sorted(((code, n) for code, n in factors.items() if n), key=lambda row: (-row[1], row[0]))
    points = max(0, sum(n for _, n in present))
    urgent = by_sign or points >= edges["urgent_from"]
    band = "urgent" if urgent else "alert" if points >= edges["alert_from"] else "low"
    change = [code for code, n in present if n > 0 and code in TODAY]
    most = [*change, *(f"find_{what}" for what in find), ""][0]
    named = [{"code": code, "points": n} for code, n in present]
    return {"band": band, "points": points, "factors": named, "most": most, "by_sign": by_sign}


def _how(result: dict[str, Any]) -> str:
    return str(result["off_feed"]["args"]["how"]) if result["off_feed"] else ""


def _score(ctx: Context, doe_id: str) -> int | None:
    score = last_score(ctx, doe_id)
    return score[1] if score and score[0] <= ctx.rules["score_holds_d"] else None


def _condition(ctx: Context, doe_id: str, part: dict[str, Any]) -> Iterator[str]:
    x100 = _score(ctx, doe_id)
    if x100 is not None and x100 >= part["edges"]["fat_from_x100"]:
        yield "fat"
    if x100 is not None and x100 <= part["edges"]["thin_to_x100"]:
        yield "thin"


def _energy(ctx: Context, doe_id: str, result: dict[str, Any], part: dict[str, Any]) -> Iterator[str]:
    """Against what she can eat to: the appetite that falls near kidding makes nobody a case."""
    week, slot = window(ctx, doe_id, 7), slot_for(ctx, doe_id, ctx.day)
    if result["lines"]["me"]["st"] == "unknown" or slot is None or not week["days"]:
        return
    floor = slot[0]["floor_me_kj"][slot[1]] * week["days"]
    asked = min(floor, week["need"]["me"]) if floor else week["need"]["me"]
    pm = week["got"]["me"] * 1000 // asked if asked > 0 else 1000
    if pm < part["edges"]["energy_well_short_pm"]:
        yield "energy_well_short"
    elif pm < part["edges"]["energy_short_pm"]:
        yield "energy_short"


def _calcium(
    ctx: Context, doe_id: str, result: dict[str, Any], edges: dict[str, int], to_go: int | None
) -> Iterator[str]:
    """By her own line, or by the pen's where her hay is shared. Much calcium stands for sole legume hay late."""
    line, week = result["lines"]["ca"], window(ctx, doe_id, 7)
    if line["st"] == "unknown":
        return
    if line["st"] == "short" or (line["of"] == "doe" and line["pm"] < edges["calcium_short_pm"]):
        yield "calcium_short"
    late = to_go is not None and to_go <= edges["much_calcium_last_d"]
    rich = dense(week["got"]["ca"], week["dm"]) > ctx.rules["calcium_dense_ug_g"]
    if late and rich and line["pm"] > edges["much_calcium_pm"]:
        yield "much_calcium"


def _upset(ctx: Context, doe_id: str) -> bool:
    """Moved to another pen, or a day on half her feed, within three days."""
    moves = ctx.view["does"][doe_id]["moves"]
    for (_, before), (on, pen) in zip(moves, moves[1:], strict=False):
        if before and before != pen and 0 <= days_between(on, ctx.day) <= UPSET_D:
            return True
    week = window(ctx, doe_id, 7)
    for back in range(1, UPSET_D + 1):
        on = shift(ctx.day, -back)
        sums = day_sums(ctx, doe_id, on, False) if week["days"] and confirmed(ctx, doe_id, on) else None
        if sums and sums["got"]["me"] * 2 * week["days"] < week["got"]["me"]:
            return True
    return False
