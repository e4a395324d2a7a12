"""The tables as text."""

from __future__ import annotations

from collections import Counter

from .farm import Row
from .measure import (
    Found,
    Says,
    a_month,
    detection,
    equal_detection,
    false_a_month,
    group,
    held,
    ours,
    ours_or_score,
    point_rule,
)
from .regimes import GOOD

LEVEL_PM = 80
RULED = "-" * 100
GROUPS = (
    "dry, own feed",
    "dry, shared hay",
    "dry, own feed, late",
    "dry, shared hay, late",
    "growing, shared hay",
    "growing, shared hay, late",
    "fresh, 21 days",
    "milking",
)


def calibration(rows: list[Row]) -> str:
    """True over stated ratio, and how often the stated 80 % band held."""
    lines = [f"{'days of':28}{'days':>7}{'bias %':>8}{'SD %':>7}{'10 %':>7}{'90 %':>7}{'half %':>8}", RULED]
    lines[0] += f"{'inside %':>10}{'below':>7}{'above':>7}"
    for name in (*GROUPS, "all"):
        found = held(row for row in rows if name in (group(row), "all"))
        if found:
            line = f"{name:28}{found.days:7}{found.bias:8.1f}{found.sd:7.1f}{found.p10:7.1f}{found.p90:7.1f}"
            lines.append(f"{line}{found.half:8.1f}{found.inside:10.1f}{found.below:7.1f}{found.above:7.1f}")
    return "\n".join(lines)


def parts_of_error(rows: list[Row]) -> str:
    """The two parts of the error: supply (true over stated) and need (stated over true)."""
    lines = [f"{'days of':28}{'need bias %':>13}{'SD':>7}{'supply bias %':>15}{'SD':>7}", RULED]
    for name in (*GROUPS, "all"):
        found = held(row for row in rows if name in (group(row), "all"))
        if found:
            line = f"{name:28}{found.need_bias:13.1f}{found.need_sd:7.1f}"
            lines.append(f"{line}{found.supply_bias:15.1f}{found.supply_sd:7.1f}")
    return "\n".join(lines)


def alarms(rows: list[Row]) -> str:
    """Energy prompts per doe and month on the usual good regime, and of these while nothing was truly wrong."""
    good = [row for row in rows if row.regime == GOOD]
    lines = [f"{'per doe and month, good regime':44}{'said':>8}{'false':>8}", RULED]
    rules: list[tuple[str, Says]] = [
        ("ours, energy", ours),
        ('ours, and "score her"', ours_or_score),
        (f"point estimate, {LEVEL_PM / 10:g} %", point_rule(LEVEL_PM)),
    ]
    rules += [(f"point estimate, {band / 10:g} % (finds as many {word})", one) for word, band, one in matched(rows)]
    for name, says in rules:
        lines.append(f"{name:44}{a_month(good, says):8.2f}{false_a_month(good, says):8.2f}")
    return "\n".join(lines)


def matched(rows: list[Row]) -> list[tuple[str, int, Says]]:
    """The point rule with its band moved until it finds as many truly short, and truly over, as ours."""
    made = []
    for word in ("short", "over"):
        band = equal_detection(rows, word, detection(rows, word, ours).found)
        made.append((word, band, one_way(point_rule(band), word)))
    return made


def one_way(says: Says, word: str) -> Says:
    return lambda row: word if says(row) == word else ""


def equal(rows: list[Row]) -> str:
    """False alarms of ours and of the point rule, each way, at equal detection."""
    good = [row for row in rows if row.regime == GOOD]
    lines = [f"{'at equal detection':12}{'found %':>10}{'ours said':>12}{'false':>8}", RULED]
    lines[0] += f"{'point band':>12}{'found %':>10}{'said':>8}{'false':>8}"
    false = [0.0, 0.0]
    for word, band, says in matched(rows):
        mine = one_way(ours, word)
        false = [false[0] + false_a_month(good, mine), false[1] + false_a_month(good, says)]
        text = f"{word:18}{detection(rows, word, ours).found:10.0f}{a_month(good, mine):12.2f}"
        text += f"{false_a_month(good, mine):8.2f}{band / 10:11g}%{detection(rows, word, says).found:10.0f}"
        lines.append(f"{text}{a_month(good, says):8.2f}{false_a_month(good, says):8.2f}")
    share = f"{100 * false[0] / false[1]:.0f} %" if false[1] else "no measure"
    lines.append(f"false alarms, both ways: ours {false[0]:.3f}, point {false[1]:.3f}: {share}")
    return "\n".join(lines)


def finding(rows: list[Row]) -> str:
    """Truly short and over stretches by regime: how many spoken of, and how late."""
    lines = [f"{'regime':12}{'truly':8}{'stretches':>10}{'ours %':>9}{'days':>6}", RULED]
    lines[0] += f"{'and score %':>13}{'days':>6}{'point 8 % %':>13}{'days':>6}"
    for regime in sorted({row.regime for row in rows}):
        mine = [row for row in rows if row.regime == regime]
        for word in ("short", "over"):
            found = [detection(mine, word, says) for says in (ours, ours_or_score, point_rule(LEVEL_PM))]
            if found[0].episodes:
                lines.append(f"{regime:12}{word:8}{found[0].episodes:10}" + "".join(map(_pair, found, (9, 13, 13))))
    return "\n".join(lines)


def _pair(found: Found, width: int) -> str:
    return f"{found.found:{width}.0f}{found.delay_d:6.0f}"


def codes(rows: list[Row]) -> str:
    """Prompts by code on the good regime: episodes per doe and month, and the share of days each is on screen."""
    good = [row for row in rows if row.regime == GOOD]
    on_screen = Counter(row.code or "level, nothing to say" for row in good)
    lines = [f"{'code, good regime':30}{'per doe and month':>20}{'days on screen %':>20}", RULED]
    for code, days in on_screen.most_common():
        told = a_month(good, only(code))
        lines.append(f"{code:30}{told:20.2f}{100 * days / len(good):20.1f}")
    return "\n".join(lines)


def only(code: str) -> Says:
    return lambda row: code if row.code == code else ""
