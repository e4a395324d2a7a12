"""Where published systems differ: the choices a herd has, which is ours, and what each one comes to."""

from __future__ import annotations

from dataclasses import dataclass

from .arrays import Num
from .errors import MissingInput
from .late_floor import floor_allowance
from .maintenance import maintenance_gfe2003, maintenance_luo2004
from .parameters import topic, values
from .systems_gfe2003 import me_month_5_gfe2003

NAME = "alternatives"
BETWEEN = "__"
DEFAULTS = {
    "maintenance": "luo2004",
    "late_floor": "litter",
    "calcium_absorption": "inra",
    "close_up_before": "usual",
    "pre_kidding_calcium": "to_need",
    "activity": "recommended",
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


def rules_with_alternatives() -> tuple[str, ...]:
    """Herd rules for which sources differ."""
    return tuple(DEFAULTS)


def alternatives(rule: str) -> tuple[Alternative, ...]:
    """Every documented choice for a herd rule, ours first.

    Parameters
    ----------
    rule : one of rules_with_alternatives()

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


def maintenance_by(choice: str, body_weight_kg: Num) -> Num:
    """Maintenance of a grown doe by a herd's choice.

    Equation: 501.3 or 450 kJ x BW^0.75

    Parameters
    ----------
    choice : "luo2004" or "gfe2003"
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    luo2004_energy; gfe2003
    """
    alternative("maintenance", choice)
    return maintenance_gfe2003(body_weight_kg) if choice == "gfe2003" else maintenance_luo2004(body_weight_kg)


def late_floor_by(choice: str, body_weight_kg: Num, pregnancy_kj: Num) -> Num:
    """Least energy late in pregnancy by a herd's choice.

    Equation: litter: 450 kJ x BW^0.75 + 0.46 x litter's demand; gfe2003: 600 kJ x BW^0.75 in month 5

    Parameters
    ----------
    choice : "litter" or "gfe2003"
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140; maternal
    pregnancy_kj : scalar or 1-D, n days [kJ/d], by pregnancy_energy_afrc1993

    Returns
    -------
    scalar or 1-D, n days [kJ/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    Validity
    --------
    The German figure knows no litter: too little for triplets, too much for a single near day 121.

    References
    ----------
    gfe2003, Table 1, month 5
    """
    chosen = alternative("late_floor", choice)
    if choice == "gfe2003":
        return me_month_5_gfe2003(body_weight_kg) + 0 * pregnancy_kj
    return floor_allowance(maintenance_gfe2003(body_weight_kg), pregnancy_kj, chosen.value)


def calcium_diet_by(choice: str, absorbed_g: Num) -> Num:
    """Calcium in the diet that supplies an absorbed need, by a herd's choice of absorption.

    Equation: absorbed / 0.40, / 0.30 or / 0.45

    Parameters
    ----------
    choice : "inra", "meschy" or "nrc2007"
    absorbed_g : scalar or 1-D, n days [g/d]

    Returns
    -------
    scalar or 1-D, n days [g/d]

    References
    ----------
    inra_hardy; meschy2002; nrc2007
    """
    return absorbed_g / alternative("calcium_absorption", choice).value


def pre_kidding_calcium(choice: str) -> tuple[float, float]:
    """Least and most calcium in the last weeks before kidding, as shares of need.

    Equation: to_need 1.0 to 1.5, hold 1.0 to 3.0, lower 0.8 to 1.0 and only as agreed with the vet

    Parameters
    ----------
    choice : "to_need", "hold" or "lower"

    Returns
    -------
    (least, most) [ratio to need]

    Validity
    --------
    Sources contradict each other and no controlled goat trial was read.

    References
    ----------
    judgement; merck_milk_fever; pvamu_milk_fever
    """
    most = alternative("pre_kidding_calcium", choice).value
    return (values(NAME)["pre_kidding_lower_least"] if choice == "lower" else 1.0), most


def pre_kidding_from_d() -> float:
    """Days before the earliest due date from which calcium neither swings nor falls.

    Returns
    -------
    scalar [d]

    References
    ----------
    judgement
    """
    return values(NAME)["pre_kidding_from_d"]


def close_up_starts(choice: str, length_d: int) -> int:
    """Day of gestation from which feed is built up, by a herd's choice.

    Parameters
    ----------
    choice : "short", "usual", "month" or "long"
    length_d : scalar [d], gestation length

    Returns
    -------
    scalar [d of gestation]

    References
    ----------
    norway_dry_does; bentley2021; judgement
    """
    return length_d - round(alternative("close_up_before", choice).value)
