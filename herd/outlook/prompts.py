"""One prompt per doe, the most serious first; a cause shared by a pen is said once, for the pen."""

from __future__ import annotations

from typing import Any

from .balance import window
from .context import Context, days_between
from .energy_word import energy_word
from .frozen_out import frozen_out_word
from .grain import grain_word, late_cut
from .minerals import mineral_word
from .needs import last_score
from .plan import has_plan, next_step, raise_waiting
from .risk import risk_word

RANKS = {
    "off_feed_vet": 1,
    "off_feed_now": 1,
    "temperature_vet": 1,
    "belly_vet": 1,
    "udder_vet": 1,
    "ketones_vet": 1,
    "ketones_act": 2,
    "frozen_out": 2,
    "update_needed": 2,
    "off_feed_watch": 3,
    "ketones_watch": 3,
    "temperature_watch": 3,
    "udder_watch": 3,
    "mineral_doubled": 3,
    "grain_meal_big": 4,
    "grain_day_big": 4,
    "step_big": 4,
    "step_planned_big": 4,
    "steps_too_fast": 4,
    "raise_waits": 4,
    "net_cut_late": 5,
    "energy_short": 6,
    "energy_over": 6,
    "energy_heading_short": 6,
    "energy_heading_over": 6,
    "score_her": 6,
    "risk_toxemia": 7,
    "risk_milk_fever": 7,
    "calcium_short": 7,
    "calcium_over": 7,
    "calcium_heading_short": 7,
    "calcium_heading_over": 7,
    "protein_short": 8,
    "fibre_low": 8,
    "condition_thin": 9,
    "condition_fat": 9,
    "waiting": 10,
    "withheld": 10,
    "stale": 10,
    "no_outlook": 10,
    "record_next": 11,
    "raise_will_wait": 11,
    "steps_ahead": 12,
}
SHARED = ("calcium_short", "calcium_over", "energy_short", "energy_over", "protein_short", "record_next")
STEPS_WITHIN_D = 7


def choose(ctx: Context, doe_id: str, result: dict[str, Any]) -> dict[str, Any] | None:
    """The prompt of lowest rank, or None when she is level and nothing is due."""
    found = [said for said in _all(ctx, doe_id, result) if said]
    if not found:
        return None
    best = min(found, key=lambda said: RANKS[said["code"]])
    return {"code": best["code"], "rank": RANKS[best["code"]], "subject": doe_id, "args": best["args"], "in_pen": False}


def _all(ctx: Context, doe_id: str, result: dict[str, Any]) -> list[dict[str, Any] | None]:
    words = [result["off_feed"], result["checkup"], mineral_word(ctx, result["doubled"])]
    if result["down"]:
        # nothing is fed to a doe that is down, so no amount is spoken of
        return words
    if result["standing"] == "buck":
        return words
    words.append(frozen_out_word(ctx, doe_id, result["phase"]))
    if result["standing"] != "ok":
        return [*words, _say(result["standing"])]
    lines = result["lines"]
    week = window(ctx, doe_id, 7)
    words += [
        grain_word(ctx, doe_id),
        _waits(ctx, doe_id),
        late_cut(ctx, doe_id, week),
        _energy(ctx, doe_id, lines["me"]),
    ]
    # of equal rank the first is said
    words += [risk_word(result), _calcium(lines["ca"]), _protein(lines, result["gest"], result["lane"], ctx)]
    words += [
        _fibre(result["fibre"]),
        _condition(ctx, doe_id, result),
        _record_next(ctx, doe_id, lines["me"]),
        _steps(ctx, doe_id),
    ]
    return words


def _say(code: str, **args: Any) -> dict[str, Any]:
    return {"code": code, "args": args}


def _energy(ctx: Context, doe_id: str, line: dict[str, Any]) -> dict[str, Any] | None:
    word, by = energy_word(ctx, doe_id, line)
    if not word:
        return None
    args = {"pm": line["pm"], "on": line["ahead"]["on"] if line["ahead"] else ctx.day, "witness": by}
    if word == "score_her":
        score = last_score(ctx, doe_id)
        return _say("score_her", age_d=score[0] if score else -1, x100=score[1] if score else 0)
    return _say(f"energy_{word}", **args)


def _calcium(line: dict[str, Any]) -> dict[str, Any] | None:
    if line["st"] in ("short", "over"):
        return _say(f"calcium_{line['st']}", pm=line["pm"])
    ahead = line["ahead"] if line["st"] == "level" else None
    return _say(f"calcium_heading_{ahead['st']}", on=ahead["on"]) if ahead else None


def _protein(lines: dict[str, Any], gest: int, lane: int, ctx: Context) -> dict[str, Any] | None:
    line, late = lines["cp"], gest >= ctx.rules["late_day"]
    # late and no shorter than her energy, it is her appetite that falls, not the feed that is poor
    if late and line["pm"] >= lines["me"]["pm"]:
        return None
    return _say("protein_short", pm=line["pm"]) if (late or lane in (0, 2)) and line["st"] == "short" else None


def _fibre(line: dict[str, Any]) -> dict[str, Any] | None:
    return _say("fibre_low", ndf_pm=line["ndf_pm"]) if line["st"] == "low" else None


def _condition(ctx: Context, doe_id: str, result: dict[str, Any]) -> dict[str, Any] | None:
    score = last_score(ctx, doe_id)
    if score is None or score[0] > ctx.rules["score_holds_d"] or not result["band"]:
        return None
    low, high = result["band"]
    if score[1] <= low - ctx.rules["band_slack_x100"]:
        return _say("condition_thin", x100=score[1], low=low)
    if score[1] >= high + ctx.rules["band_slack_x100"]:
        late = result["gest"] >= ctx.rules["late_day"]
        return _say("condition_fat", x100=score[1], high=high, late=late)
    return None


def _record_next(ctx: Context, doe_id: str, line: dict[str, Any]) -> dict[str, Any] | None:
    if line["st"] != "unknown":
        return None
    if not ctx.view["does"][doe_id]["pen"]:
        return _say("record_next", what="no_pen", days=line["days"])
    what = "meals" if has_plan(ctx, doe_id, ctx.day) else "ration"
    if line["days"] >= ctx.rules["confirmed_days"]:
        what = "feed_value"
    return _say("record_next", what=what, days=line["days"])


def _waits(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    """A raise by a scoop or flake whose weight is old: it waits until somebody has weighed it again."""
    held = raise_waiting(ctx, doe_id, STEPS_WITHIN_D)
    if not held:
        return None
    code = "raise_waits" if held[0] == ctx.day else "raise_will_wait"
    return _say(code, on=held[0], feed=held[1], now=held[2], then=held[3])


def _steps(ctx: Context, doe_id: str) -> dict[str, Any] | None:
    step = next_step(ctx, doe_id, STEPS_WITHIN_D)
    if step:
        return _say("steps_ahead", on=step[0], feed=step[1], now=step[2], then=step[3], rule=False)
    due = [s for s in ctx.outlooks[doe_id]["steps"] if 0 <= days_between(ctx.day, s["on"]) <= STEPS_WITHIN_D]
    doe = ctx.view["does"][doe_id]
    if due and doe["bred"] and not any(r for r in ctx.plans.get(doe_id, []) if r["steps"][-1][0] > ctx.day):
        return _say("steps_ahead", on=due[0]["on"], feed="", now=0, then=due[0]["g"], rule=True)
    return None


def spread(ctx: Context, does: dict[str, Any]) -> dict[str, Any]:
    """{pen: {"prompt"}}: a code that most of a pen's does share becomes the pen's, and theirs are marked as said."""
    pens: dict[str, Any] = {}
    for pen in sorted(ctx.view["pens"]):
        mates = [doe for doe in ctx.pen_mates(pen, ctx.day) if doe in does]
        pens[pen] = {"prompt": None}
        for code in SHARED:
            same = [d for d in mates if does[d]["prompt"] and does[d]["prompt"]["code"] == code]
            if len(same) >= 2 and len(same) * 1000 >= len(mates) * ctx.rules["pen_shared_pm"]:
                args = {**does[same[0]]["prompt"]["args"], "does": same}
                pens[pen]["prompt"] = {"code": code, "rank": RANKS[code], "subject": pen, "args": args, "in_pen": True}
                for doe_id in same:
                    does[doe_id]["prompt"] = {**does[doe_id]["prompt"], "in_pen": True}
                break
    return pens
