"""Who she is and when: weight and litter with where they came from, keeper, dates, phase, what was assumed."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from ..codes import LANES, PHASES
from ..days import days_between
from ..evaluate import FarmDay
from .words import heading, number

FROM = {
    "scale": "by scale",
    "tape": "by tape",
    "class": "by class, nobody weighed her",
    "scan": "counted",
    "prior": "not counted, the usual for her breed and parity",
}


def who_text(farm: FarmDay, doe_id: str, rules: Mapping[str, Any]) -> list[str]:
    """Size, breed, age, own weight, litter, keeper."""
    doe, look = farm.view["does"][doe_id], farm.outlooks[doe_id]
    f, who = doe["f"], look["who"]
    age = f"{days_between(f['born_on'], farm.day) / 365.25:.1f} years" if f.get("born_on") else "age not known"
    keeper = who["keeper"]
    factor = f", {rules[f'keeper_{keeper}_pm'] / 10:g} % of maintenance" if keeper != "even" else ""
    lines = heading("Who")
    lines.append(
        f"  {who['size']}, {f.get('breed', 'unknown')}, {age}, {'first freshener' if who['first'] else 'has kidded'}"
    )
    lines.append(f"  own weight {who['mass_g'] / 1000:g} kg {FROM[who['mass_from']]}{_weighed(doe, look)}")
    lines.append(f"  {'still growing' if who['growing'] else 'grown'}; {keeper} keeper{factor}")
    if look["due"]:
        kids, kid = who["litter_x100"] / 100, number(who["kid_g"])
        lines.append(f"  {kids:g} kids {FROM[who['litter_from']]}, {kid} g each at birth, from her own weight")
    return lines


def _weighed(doe: dict[str, Any], look: dict[str, Any]) -> str:
    row = next((row for row in doe["weights"] if row[3] == look["basis"]["weight"]), None)
    since = ", with growth since" if look["who"]["growing"] else ""
    carried = ", less what she carried" if "conceptus_taken_off" in look["assumed"] else ""
    return f" ({number(row[1])} g on {row[0]}{carried}{since})" if row else ""


def dates_text(farm: FarmDay, doe_id: str) -> list[str]:
    """Service, due window, phase and lane today, the state the outlook was compiled for."""
    doe, look = farm.view["does"][doe_id], farm.outlooks[doe_id]
    lines = heading("When")
    if doe["bred"]:
        lines.append(f"  with the buck {doe['bred']['from']} to {doe['bred']['to']} ({doe['bred']['how']})")
    if look["due"]:
        due = look["due"]
        lines.append(
            f"  due {due['printed']} by the herd's rule; half by {due['mid']}, 96 % {due['early']} to {due['late']}"
        )
    now = farm.ask("compiled_on", doe_id, farm.day)
    if now:
        day = f", day {now['gest']} of gestation" if now["gest"] >= 0 else ""
        lines.append(f"  {farm.day}: {PHASES[now['phase']]}, lane {LANES[now['lane']]}{day}")
    lines.append(
        f"  outlook of {look['compiled_on']}, science {look['science']}, branch {farm.ask('branch_name', doe_id)}"
    )
    lines += [f"  assumed: {', '.join(look['assumed'])}"] if look["assumed"] else []
    return lines + [f"  withheld: {line['line']}, {line['why']} ({line['name']})" for line in look["withheld"]]
