"""The herd's mineral and water card as a document for the phones: whole numbers, ids for names, one for the herd.

It stands on what was fed in the last seven days, the labels and reports of own feeds, the last water test and the
herd's own word on sheep. No doe is judged by it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from herd.science import VERSION
from herd.science.parameters import values
from herd.science.water_minerals.alerts import Alert, Herd, alerts
from herd.science.water_minerals.lines import Line, element_lines
from herd.science.water_minerals.portions import Portion
from herd.science.water_minerals.water import TESTED, read_water, sulfur_from_sulfate, water_portion

from ..days import days_between
from ..evaluate import FarmDay
from ..rules import RULES
from ..shapes import CardAlert, CardLine, CardWater, HerdCard, WaterFigure
from .diet import Diet, diet_of
from .feeds import portions_of
from .water import last_test, read_test

CARD = "card"
SCHEMA = 1
PER_UNIT = 1000
MOST_SOURCES = 8


def compile_card(view: Mapping[str, Any], book: Mapping[str, Any], day: str) -> HerdCard | None:
    """The card of a farm on a day.

    Parameters
    ----------
    view : folded view with the last week's feedings, moves, states and water tests
    book : the farm's book
    day : farm-local date

    Returns
    -------
    Document of whole numbers: contents in ug per kg of diet dry matter, amounts in ug a day, water in ug per litre.
    None when nothing was fed for a week and no water was ever tested: then there is nothing to say.
    """
    farm = FarmDay(view, {}, book, day)
    diet, water = diet_of(farm), last_test(view)
    if not diet.dm_g and water is None:
        return None
    lines, found = _judged(farm, diet, water) if diet.dm_g else ([], [])
    return {
        "schema": SCHEMA,
        "science": VERSION,
        "doe": CARD,
        "rev": 0,
        "compiled_on": farm.day,
        "days": diet.days,
        "does": diet.does,
        "dm_g": diet.dm_g,
        "grain_pm": diet.grain_pm,
        "stage": stage_of(farm),
        "sheep": sheep_share(farm.view),
        "water": _water(water),
        "lines": [_line(one) for one in lines],
        "alerts": [_alert(one) for one in found],
    }


def _judged(farm: FarmDay, diet: Diet, water: Mapping[str, Any] | None) -> tuple[Sequence[Line], Sequence[Alert]]:
    eaten = [*portions_of(farm, diet), _water_portion(water)]
    lines = element_lines(eaten, stage_of(farm))
    herd = Herd(sheep_share(farm.view), close_to_kidding(farm), diet.grain_pm / PER_UNIT)
    return lines, alerts(eaten, lines, herd)


def _water_portion(water: Mapping[str, Any] | None) -> Portion:
    """Litres nobody measured: a source of unknown content, so that every total it could change says "at least"."""
    if water and water["drunk_l"]:
        return water_portion(read_test(water), water["drunk_l"])
    return water_portion({}, 1.0)


def _line(line: Line) -> CardLine:
    return {
        "el": line.element,
        "ug_kg": _micro(line.content),
        "target": None if line.target is None else _micro(line.target),
        "most": None if line.most is None else _micro(line.most),
        "st": line.state,
        "sources": _sources(line.of.sources),
        "blank": sorted(line.of.unknown),
        "blank_pm": line.unknown_pm,
    }


def _alert(alert: Alert) -> CardAlert:
    return {
        "code": alert.code,
        "grade": alert.grade,
        "value": _micro(alert.value),
        "limit": _micro(alert.limit),
        "at_least": alert.at_least,
        "sources": _sources(alert.sources),
    }


def _sources(given: Iterable[tuple[str, float]]) -> list[list[str | int]]:
    brings: list[list[str | int]] = [[name, _micro(mg)] for name, mg in given if mg > 0]
    return brings[:MOST_SOURCES]


def _micro(number: float) -> int:
    return round(PER_UNIT * number)


def _water(water: Mapping[str, Any] | None) -> CardWater | None:
    if water is None:
        return None
    test = read_test(water)
    bands, drunk_l = read_water(test), water["drunk_l"]
    known = {name: _micro(mg_l) for name in TESTED if (mg_l := test.get(name)) is not None}
    tested: list[WaterFigure] = [
        {"what": name, "ug_l": ug_l, "band": bands[name], "ug_d": round(_brings(name, ug_l) * drunk_l)}
        for name, ug_l in known.items()
    ]
    rest = [name for name in TESTED if name not in known]
    return {"on": water["on"], "place": water["place"], "drunk_l": drunk_l, "tested": tested, "untested": rest}


def _brings(name: str, ug_l: float) -> float:
    """What a litre brings of what matters: of sulfate the sulfur."""
    return float(sulfur_from_sulfate(ug_l)) if name == "sulfate" else ug_l


def sheep_share(view: Mapping[str, Any]) -> bool:
    """Whether the farm said that sheep eat from the same feed."""
    return bool(view["rules"]["f"].get("sheep_share") == "yes")


def stage_of(farm: FarmDay) -> str:
    """Which targets lead: those of milkers where at least as many does milk as carry dry."""
    here = [doe for doe in farm.view["does"].values() if not doe["left_on"]]
    milking = sum(1 for doe in here if doe["kidded"] and not doe["dried_on"])
    carrying = sum(1 for doe in here if doe["bred"] and not (doe["kidded"] and not doe["dried_on"]))
    return "milk" if milking and milking >= carrying else "late"


def close_to_kidding(farm: FarmDay) -> bool:
    """Some doe is within four weeks of the herd's printed day."""
    return any(
        0 <= _days_to_go(farm, doe) <= values("assumed")["card_close_d"]
        for doe in farm.view["does"].values()
        if doe["bred"] and not doe["left_on"]
    )


def _days_to_go(farm: FarmDay, doe: Mapping[str, Any]) -> int:
    size = "mini" if doe["f"].get("size") == "mini" else "standard"
    length: int = farm.rules.get(f"preg_days_{size}", RULES[f"preg_days_{size}"].default)
    return length - days_between(doe["bred"]["to"], farm.day)
