"""Who ate what: stand lines are a doe's own; a pen's shared feed is divided by remaining appetite, slot after slot."""

from __future__ import annotations

from typing import Any

from .context import SLOTS, Context
from .feed_classes import FORAGE, is_grain
from .needs import appetite_on
from .plan import plan_lines

Eaten = dict[str, Any]
UNSAID_PM = 250


def share_day(ctx: Context, pen: str, on: str, planned: bool) -> dict[str, Eaten]:
    """{doe: what she ate} in a pen on a date, from confirmed feedings or from the plan. Worked once per pen and day."""
    key = f"{pen}|{on}|{1 if planned else 0}"
    if key not in ctx.shares:
        ctx.shares[key] = _share(ctx, pen, on, planned)
    return ctx.shares[key]


def _share(ctx: Context, pen: str, on: str, planned: bool) -> dict[str, Eaten]:
    does = ctx.pen_mates(pen, on)
    room = {doe: appetite_on(ctx, doe, on) for doe in does}
    eaten = {doe: _nothing() for doe in does}
    for slot in SLOTS:
        lines, most = _planned(ctx, pen, on, slot) if planned else confirmed_lines(ctx, pen, does, on, slot)
        for doe in does:
            _eat_own(ctx, eaten[doe], doe, on, slot, lines, most, planned)
        if lines.get("") is not None:
            _eat_shared(ctx, pen, does, on, slot, lines[""], room, eaten, planned)
    return eaten


def _nothing() -> Eaten:
    return {"dm": {}, "own": {}, "offered": {}, "slots": [], "meal_g": 0, "day_g": 0, "unknown": []}


def _planned(ctx: Context, pen: str, on: str, slot: str) -> tuple[dict[str, Any], dict[str, Any]]:
    lines: dict[str, Any] = {}
    for to, feed, g in plan_lines(ctx, pen, on, slot):
        lines.setdefault(to, []).append([feed, g])
    return lines, lines


def confirmed_lines(
    ctx: Context, pen: str, does: list[str], on: str, slot: str
) -> tuple[dict[str, Any], dict[str, Any]]:
    """Lines counted toward need and lines counted against limits: of a double feeding the smaller, the larger."""
    sets: dict[str, list[list[Any]]] = {}
    extra: dict[str, list[Any]] = {}
    for feeding in ctx.feedings.get(on, []):
        if feeding["slot"] != slot:
            continue
        mine: dict[str, list[Any]] = {}
        for to, feed, g in feeding["lines"]:
            target = to or ("" if feeding["subject"] == pen else feeding["subject"])
            if target in does or (target == "" and feeding["subject"] == pen):
                mine.setdefault(target, []).append([feed, g])
        for target, lines in mine.items():
            if feeding["adds"]:
                extra.setdefault(target, []).extend(lines)
            else:
                sets.setdefault(target, []).append(lines)
    least, most = {}, {}
    for target in {*sets, *extra}:
        ranked = sorted(sets.get(target, [[]]), key=lambda lines: sum(dry_g(ctx, feed, g) for feed, g in lines))
        least[target] = ranked[0] + extra.get(target, [])
        most[target] = ranked[-1] + extra.get(target, [])
    return least, most


def dry_g(ctx: Context, feed_id: str, g: int) -> int:
    """Grams of dry matter in grams as fed; 0 for a feed nobody has described."""
    feed = ctx.feed(feed_id)
    return int(g * feed["dm_pm"] // 1000) if feed and feed["dm_pm"] else 0


def grain_g(ctx: Context, lines: list[Any]) -> int:
    """Dry-grain equivalent of concentrate lines: their dry matter at the dry matter of grain."""
    total = 0
    for feed_id, g in lines:
        if is_grain(ctx.feed(feed_id)):
            total += dry_g(ctx, feed_id, g) * 1000 // ctx.rules["grain_dm_pm"]
    return total


def _eat_own(
    ctx: Context, eaten: Eaten, doe: str, on: str, slot: str, lines: dict[str, Any], most: dict[str, Any], planned: bool
) -> None:
    if doe not in lines and "" not in lines:
        return
    eaten["slots"].append(slot)
    for feed, g in lines.get(doe, []):
        left_pm = 0 if planned else left_of(ctx, doe, on, slot, feed)
        offered = dry_g(ctx, feed, g)
        _add(ctx, eaten, feed, offered * (1000 - left_pm) // 1000, own=True)
        eaten["offered"][feed] = eaten["offered"].get(feed, 0) + offered
    meal = grain_g(ctx, most.get(doe, []))
    eaten["meal_g"] = max(eaten["meal_g"], meal)
    eaten["day_g"] += meal


def _eat_shared(
    ctx: Context,
    pen: str,
    does: list[str],
    on: str,
    slot: str,
    lines: list[Any],
    room: dict[str, int],
    eaten: dict[str, Eaten],
    planned: bool,
) -> None:
    weights = {}
    for doe in does:
        off = not planned and left_of(ctx, doe, on, slot, "") >= 1000
        weights[doe] = 0 if off else max(0, room[doe] - sum(eaten[doe]["dm"].values()))
    space = sum(weights.values())
    offered: dict[str, int] = {}
    for feed, g in lines:
        left_pm = 0 if planned else left_of(ctx, pen, on, slot, feed)
        dry = dry_g(ctx, feed, g) * (1000 - waste_pm(ctx, pen, feed)) // 1000
        offered[feed] = offered.get(feed, 0) + dry * (1000 - left_pm) // 1000
    total = sum(offered.values())
    for feed in sorted(offered):
        # by heads, so that a doe whose appetite falls is not offered less
        for doe, part in largest_remainder(offered[feed], dict.fromkeys(does, 1)).items():
            eaten[doe]["offered"][feed] = eaten[doe]["offered"].get(feed, 0) + part
        gone = offered[feed] if total <= space else offered[feed] * space // total
        liked = {doe: 0 if leaves(ctx, doe, feed) else weight for doe, weight in weights.items()}
        for doe, part in largest_remainder(gone, liked).items():
            _add(ctx, eaten[doe], feed, part, own=False)


def _add(ctx: Context, eaten: Eaten, feed: str, dry: int, own: bool) -> None:
    eaten["dm"][feed] = eaten["dm"].get(feed, 0) + dry
    if own:
        eaten["own"][feed] = eaten["own"].get(feed, 0) + dry
    if ctx.feed(feed) is None and feed not in eaten["unknown"]:
        eaten["unknown"].append(feed)


def leaves(ctx: Context, doe_id: str, feed_id: str) -> bool:
    """She is known to leave the feed, or the feed it is a lot of."""
    listed = ctx.view["does"][doe_id]["f"].get("wont_eat")
    if not isinstance(listed, list):
        return False
    feed = ctx.feed(feed_id)
    return feed_id in listed or (feed or {}).get("of", "") in listed


def waste_pm(ctx: Context, pen: str, feed_id: str) -> int:
    """Share of shared forage that the feeder wastes: the pen's own figure, or the herd rule's; none where it grows."""
    feed = ctx.feed(feed_id)
    if not feed or feed["class"] not in FORAGE or feed.get("grazed"):
        return 0
    own = ctx.view["pens"].get(pen, {"f": {}})["f"].get("waste_pm")
    return own if isinstance(own, int) and own > 0 else ctx.rules["waste_pm"]


def left_of(ctx: Context, subject: str, on: str, slot: str, feed: str) -> int:
    """Share left of a meal, permille: the last thing said about that feed, or about the whole meal."""
    left = 0
    for intake in ctx.intakes.get(on, []):
        same = intake["subject"] == subject and intake["slot"] == slot and intake["feed"] in ("", feed)
        if same and intake["how"] in ("ate_all", "left_some", "refused"):
            left = said_left(ctx, intake)
    return min(left, 1000)


def said_left(ctx: Context, intake: dict[str, Any]) -> int:
    """Permille left; "left some" without a share counts as the herd rule's, which is judgement."""
    if intake["how"] == "left_some" and intake["left_pm"] == 0:
        return int(ctx.rules.get("left_unsaid_pm", UNSAID_PM))
    return int(intake["left_pm"])


def largest_remainder(total: int, weights: dict[str, int]) -> dict[str, int]:
    """Whole-number shares of a total that add up to it exactly; ties go by id."""
    whole = sum(weights.values())
    if whole == 0:
        return dict.fromkeys(weights, 0)
    shares = {key: total * weight // whole for key, weight in weights.items()}
    rest = total - sum(shares.values())
    order = sorted(weights, key=lambda key: (-(total * weights[key] % whole), key))
    for key in order[:rest]:
        shares[key] += 1
    return shares
