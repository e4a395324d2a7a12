"""Where published systems differ: the choices a herd has, and which is ours."""

from __future__ import annotations

from dataclasses import dataclass

from ..parameters import topic
from .errors import MissingInput

NAME = "alternatives"
BETWEEN = "__"
DEFAULTS = {
    "maintenance": "luo2004",
    "late_floor": "litter",
    "calcium_absorption": "inra",
    "close_up_before": "usual",
    "pre_kidding_calcium": "to_need",
    "dry_off_way": "gradual",
    "milk_per_grain": "three",
}


@dataclass(frozen=True)
class Alternative:
    """One documented choice for a herd rule."""

    rule: str
    choice: str
    value: float
    unit: str
    source: str
    where: str
    standing: str
    default: bool


def alternatives(rule: str) -> tuple[Alternative, ...]:
    """Every documented choice for a herd rule, ours first.

    Parameters
    ----------
    rule : one of DEFAULTS

    Returns
    -------
    Alternatives, the default first

    Raises
    ------
    MissingInput : no such rule
    """
    if rule not in DEFAULTS:
        raise MissingInput(rule)
    found = [_of(rule, key) for key in topic(NAME) if key.startswith(f"{rule}{BETWEEN}")]
    return tuple(sorted(found, key=lambda each: not each.default))


def alternative(rule: str, choice: str = "") -> Alternative:
    """One choice of a herd rule, the default when none is named.

    Raises
    ------
    MissingInput : no such rule or choice
    """
    wanted = choice or DEFAULTS.get(rule, "")
    for each in alternatives(rule):
        if each.choice == wanted:
            return each
    raise MissingInput(f"{rule}{BETWEEN}{choice}")


def _of(rule: str, key: str) -> Alternative:
    known, choice = topic(NAME)[key], key.split(BETWEEN)[1]
    about = (known.value, known.unit, known.source, known.where, known.standing)
    return Alternative(rule, choice, *about, default=choice == DEFAULTS[rule])
