"""What on the card needs a person's eye: copper and selenium totals, sheep at the same feeder, and what works against
copper, zinc and selenium. Judgement, for the herd, from the totals of everything that goes in.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from ..base.record import equation
from ..parameters import values
from .lines import Line
from .portions import PRODUCT, Portion
from .totals import Total, dry_matter_kg, total

P = values("card")
HARD, AMBER = "hard", "amber"
ORDER = (HARD, "red", AMBER)


@dataclass(frozen=True)
class Alert:
    """One remark: its code, how grave, the figure and its limit, everything that brings the element."""

    code: str
    grade: str
    value: float
    limit: float
    at_least: bool
    sources: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Herd:
    """What the card must know beside the diet."""

    sheep_share: bool = False
    close_to_kidding: bool = False
    grain_share: float | None = None


@equation
def sulfur_band(s_mg_kg: float, grain_share: float | None) -> str:
    """How total sulfur stands for polioencephalomalacia; grain not known counts as plenty.

    Equation: amber from 3 g/kg, red from 4 with half grain or more, from 5 on forage

    Parameters
    ----------
    s_mg_kg : scalar [mg/kg DM], feed and water
    grain_share : scalar [ratio of DM], 0 to 1, or None

    Returns
    -------
    "level", "amber" or "red"

    References
    ----------
    merck_beef_minerals; judgement
    """
    much_grain = grain_share is None or grain_share >= P["s_grain_share"]
    if s_mg_kg >= (P["s_red_grain"] if much_grain else P["s_most"]):
        return "red"
    return AMBER if s_mg_kg >= P["s_amber"] else "level"


@equation
def alerts(portions: Sequence[Portion], lines: Sequence[Line], herd: Herd) -> tuple[Alert, ...]:
    """Every alert the card raises, gravest first.

    Parameters
    ----------
    portions : what the herd gets on one day
    lines : the card's element lines for the same portions
    herd : what the card must know beside the diet

    Returns
    -------
    Alerts

    Raises
    ------
    MissingInput : nothing is eaten

    Validity
    --------
    An incomplete total raises what it proves; it never gives an all-clear.

    References
    ----------
    nrc2005_minerals; goats_extension_cu; nrc_beef_cu; suttle_book; judgement
    """
    by_element = {line.element: line for line in lines}
    calcium = total("ca", portions)
    ca_mg_kg = None if calcium.at_least else calcium.known / dry_matter_kg(portions)
    found = [
        *_selenium(by_element, portions),
        *_copper(by_element, portions, herd),
        *_over(by_element),
        *_hindered(by_element, ca_mg_kg, herd),
    ]
    return tuple(sorted(found, key=lambda alert: ORDER.index(alert.grade)))


def _alert(code: str, grade: str, line: Line, limit: float) -> Alert:
    return Alert(code, grade, line.content, limit, line.of.at_least, line.of.sources)


def _selenium(lines: Mapping[str, Line], portions: Sequence[Portion]) -> Iterator[Alert]:
    se = lines["se"]
    if se.content > P["se_hard"]:
        yield _alert("selenium_high", HARD, se, P["se_hard"])
    yield from _two_products("two_selenium_products", se, portions)


def _two_products(code: str, line: Line, portions: Sequence[Portion]) -> Iterator[Alert]:
    """More than one product with the same trace element is how totals get out of hand."""
    products = {portion.name for portion in portions if portion.kind == PRODUCT and portion.amount > 0}
    bringing = [name for name, amount in line.of.sources if name in products and amount > 0]
    if len(bringing) > 1:
        yield _alert(code, AMBER, line, 1)


def _copper(lines: Mapping[str, Line], portions: Sequence[Portion], herd: Herd) -> Iterator[Alert]:
    cu, mo = lines["cu"], lines["mo"]
    if herd.sheep_share and cu.content > P["cu_sheep_most"]:
        yield _alert("copper_for_sheep", HARD, cu, P["cu_sheep_most"])
    if herd.sheep_share and cu.of.at_least and cu.content <= P["cu_sheep_most"]:
        yield _alert("copper_for_sheep_unknown", AMBER, cu, P["cu_sheep_most"])
    if cu.content > P["cu_most"]:
        yield _alert("copper_high", HARD, cu, P["cu_most"])
    yield from _two_products("two_copper_products", cu, portions)
    if mo.of.nothing_known or mo.content <= 0 or cu.of.nothing_known:
        return
    ratio = cu.content / mo.content
    yield from _copper_to_molybdenum(ratio, cu, mo)


def _copper_to_molybdenum(ratio: float, cu: Line, mo: Line) -> Iterator[Alert]:
    # Copper or molybdenum still unknown somewhere pulls the ratio one way: only the provable side is said.
    about = (cu.of.at_least or mo.of.at_least, mo.of.sources)
    if ratio < P["cu_mo_amber"] and not cu.of.at_least:
        grade = "red" if ratio < P["cu_mo_red"] else AMBER
        yield Alert("copper_to_molybdenum_low", grade, ratio, P["cu_mo_amber"], *about)
    if ratio > P["cu_mo_high"] and cu.content > P["cu_plenty"] and not mo.of.at_least:
        yield Alert("copper_builds_up", AMBER, ratio, P["cu_mo_high"], *about)


def _over(lines: Mapping[str, Line]) -> Iterator[Alert]:
    """Over the maximum tolerable level; copper and selenium have alerts of their own, hay potassium is a remark."""
    for element, line in lines.items():
        if line.state == "over" and element not in ("cu", "se", "s") and line.most is not None:
            yield _alert(f"{element}_over", AMBER if element == "k" else "red", line, line.most)


def _hindered(lines: Mapping[str, Line], ca_mg_kg: float | None, herd: Herd) -> Iterator[Alert]:
    s, fe, se, zn = lines["s"], lines["fe"], lines["se"], lines["zn"]
    band = sulfur_band(s.content, herd.grain_share)
    if band != "level":
        yield _alert("sulfur_high", band, s, P["s_amber"])
    if P["fe_amber"] < fe.content <= P["fe_most"]:
        yield _alert("iron_against_copper", AMBER, fe, P["fe_amber"])
    if lines["mo"].content > P["mo_amber"]:
        yield _alert("molybdenum_high", AMBER, lines["mo"], P["mo_amber"])
    if band != "level" and _known_below(se, P["se_with_s"]):
        yield _alert("selenium_under_sulfur", AMBER, se, P["se_with_s"])
    if ca_mg_kg is not None and ca_mg_kg > P["ca_hinders"] and _known_below(zn, P["zn_with_ca"]):
        yield _alert("zinc_under_calcium", AMBER, zn, P["zn_with_ca"])
    if herd.close_to_kidding and lines["k"].content > P["k_late_high"]:
        yield _alert("potassium_before_kidding", AMBER, lines["k"], P["k_late_high"])
    if herd.close_to_kidding and _known_below(lines["mg"], P["mg_least"]):
        yield _alert("magnesium_before_kidding", AMBER, lines["mg"], P["mg_least"])


def _known_below(line: Line, limit: float) -> bool:
    of: Total = line.of
    return not of.at_least and not of.nothing_known and line.content < limit
