"""The one table: each measure with its numerator, its whole, and what is asked of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable

from .measure import (
    FAT,
    MONTH_D,
    THIN,
    Share,
    asked_often,
    bands,
    contradictions,
    errors,
    false_a_month,
    false_days,
    false_words,
    lives,
    named,
    point,
    share_named,
    told_over_wrongly,
    wrongly_over,
)
from .rows import Row

WIDTH = 118
STATES = ("open", "dry, early", "dry, late", "first, early", "first, late", "in milk, carrying", "fresh", "in milk")
Test = Callable[[float], bool]


def line(what: str, share: Share, asked: str = "", meets: Test | None = None, unit: str = "%") -> str:
    value = share.pct if unit == "%" else share.n / share.of if share.of else float("nan")
    judged = "" if meets is None or not share.of else "  met" if meets(value) else "  MISSED"
    shown = f"{value:8.2f} {unit}" if share.of else "       -  "
    return f"{what:64}{share.n:9.0f} /{share.of:9.0f}{shown:>11}  {asked:>12}{judged}"


def grid_table(rows: list[Row]) -> str:
    good = [row for row in rows if row.good]
    parts = [head("(b) truly short for five days, named within five", "named", "stretches"), *of_short(rows)]
    parts += [head("(c) told over", "wrongly", "doe-days"), *of_over(rows)]
    parts += [head("usual good regime", "false", "whole"), *of_good(good)]
    parts += [head("bands of 80 %", "days", "of days"), *of_bands(rows, good)]
    parts += [head("(e) pen and doe", "against", "doe-days")]
    parts += [line("pen says one way, doe the other", contradictions(rows), "none", lambda x: x == 0)]
    parts += [head("on screen, usual good regime", "days", "of days"), *on_screen(good)]
    return "\n".join(parts)


def head(title: str, left: str, right: str) -> str:
    return f"\n{title:64}{left:>9}  {right:>9}\n" + "-" * WIDTH


def of_short(rows: list[Row]) -> list[str]:
    found = named(rows)

    def at_least_90(value: float) -> bool:
        return value >= 90

    lines = [line("all states", share_named(found), ">= 90 %", at_least_90)]
    for state in STATES:
        mine = [one for one in found if one.at.state == state]
        lines.append(line(f"  {state}", share_named(mine), ">= 90 %", at_least_90))
    for name, want in (("  scored", True), ("  never scored", False)):
        lines.append(line(name, share_named(o for o in found if o.at.scored == want), ">= 90 %", at_least_90))
    thin = [one for one in found if one.at.condition <= THIN]
    lines.append(line("  at 2.5 or less", share_named(thin), ">= 90 %", at_least_90))
    fat = [one for one in found if one.at.condition >= FAT]
    lines.append(line("  late at 3.5 or more", share_named(fat), ">= 90 %", at_least_90))
    lines.append(line("  the ratio alone, outside 8 %", share_named(named(rows, point))))
    instead = Counter(one.instead for one in found if not one.named)
    lines.append("  said instead on the last day: " + ", ".join(f"{code} {n}" for code, n in instead.most_common(8)))
    return lines


def of_over(rows: list[Row]) -> list[str]:
    lines = [line("at 105 % or less and under 3.5, or at 2.5 or less", told_over_wrongly(rows), "<= 0.5 %", le(0.5))]
    for state in STATES:
        lines.append(line(f"  {state}", told_over_wrongly([row for row in rows if row.state == state])))
    lines.append(line("  the ratio alone, outside 8 %", told_over_wrongly(rows, point)))
    return lines


def of_good(good: list[Row]) -> list[str]:
    lines = [line("false energy words, episodes a doe-month", false_a_month(good), "<= 0.1", le(0.1), "")]
    lines.append(line("false energy words, days on screen", false_days(good), "<= 3 %", le(3)))
    for state in STATES:
        lines.append(line(f"  {state}", false_days([row for row in good if row.state == state])))
    lines.append(line("  the ratio alone, days", false_days(good, point)))
    lines.append(line('does asked "score her" twice in 14 days', asked_often(good), "none", le(0)))
    return lines


def le(most: float) -> Test:
    return lambda value: value <= most


def of_bands(rows: list[Row], good: list[Row]) -> list[str]:
    lines = []
    for name, some in (("usual good regime", good), ("all regimes", rows)):
        held = bands(some)
        lines.append(line(f"{name}: inside", held.inside, "75 to 85 %", lambda x: 75 <= x <= 85))
        lines.append(line("  true below", held.below, "5 to 15 %", lambda x: 5 <= x <= 15))
        lines.append(line("  true above", held.above, "5 to 15 %", lambda x: 5 <= x <= 15))
    for state in STATES:
        held = bands(row for row in good if row.state == state)
        lines.append(line(f"  {state}, good: inside", held.inside))
    title = "mean and SD, per cent, good"
    lines.append(f"\n{title:40}{'stated need over true':>26}{'truly eaten over stated':>28}")
    for state in STATES:
        need, need_sd, eaten, eaten_sd = errors(row for row in good if row.state == state)
        lines.append(f"  {state:38}{need:+18.1f} {need_sd:7.1f}{eaten:+20.1f} {eaten_sd:7.1f}")
    return lines


def on_screen(good: Iterable[Row]) -> list[str]:
    good = list(good)
    said = Counter(row.code or "nothing to say" for row in good)
    return [line(f"  {code}", Share(n, len(good))) for code, n in said.most_common()]


def about(rows: list[Row]) -> str:
    does = {(row.farm, row.doe) for row in rows}
    return f"{len(does)} does, {len(rows)} doe-days, {len(rows) / MONTH_D:.0f} doe-months"


def shown(rows: list[Row]) -> str:
    """One line a doe for what is behind the misses: of which farm, on which day, what was true and what was said."""
    parts = ["\nshort and not named"]
    parts += [f"{which(one.at)}  said {one.instead}" for one in named(rows) if not one.named]
    parts.append("\ntold over wrongly, first day and how many")
    parts += [
        f"{which(wrong[0])}  {wrong[0].code} {len(wrong)} d" for life in lives(rows) if (wrong := wrongly_over(life))
    ]
    parts.append("\nfalse words on the usual good regime, first day and how many")
    for life in lives(row for row in rows if row.good):
        if wrong := [life[k] for k in false_words(life)]:
            parts.append(f"{which(wrong[0])}  {wrong[0].code} by {wrong[0].witness or '-'} {len(wrong)} d")
    return "\n".join(parts)


def which(row: Row) -> str:
    who = (
        f"{row.farm:8} {row.doe} day {row.day:2}  {row.state:17} {row.regime:5} {row.kg:3.0f} kg at {row.condition:.2f}"
    )
    true = f"true {row.true_pm:4} could {row.could_pm:4} dense {row.dense_pm:4}  said {row.pm:4} [{row.lo}, {row.hi}]"
    return f"{who}  carrying {row.gest:3} in milk {row.dim:3}  {true}  scored {'yes' if row.scored else 'no '}"
