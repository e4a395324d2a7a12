"""The other minerals of a report or a label: majors in hundredths of a per cent, traces in hundredths of a ppm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..card.portions import MAJORS, TRACES
from .numbers import HUNDRED, ONE, figure, ratio, whole
from .words import Remark

STEP = 100
# what one of a unit is in per cent, as a ratio
IN_PER_CENT = {"%": (1, 1), "ppm": (1, ONE), "g_kg": (1, 10)}
# per cent, rounded up: magnesium oxide, potassium chloride, salt, ammonium chloride and sulfur, each pure
MOST_PCT = {"mg": 61, "k": 53, "na": 40, "cl": 67, "s": 100}


@dataclass
class Minerals:
    """What was read, as fields of a feed, and what was not."""

    fields: dict[str, int] = field(default_factory=dict)
    problems: list[Remark] = field(default_factory=list)


def read_minerals(
    received: Mapping[str, str], dry: Mapping[str, str], units: Mapping[str, str], dm_x10: int | None
) -> Minerals:
    """The minerals nobody balances a doe with, of one report.

    One column is kept: dry matter as printed, or else as received turned by the dry matter.

    Parameters
    ----------
    received, dry : {element: figure as printed}, Mg K Na Cl S and Cu Zn Mn Fe Co I Se Mo in small letters
    units : {element: "%", "ppm" or "g_kg"}; per cent for majors and ppm for traces when nothing is said
    dm_x10 : dry matter [% x 10], 1 to 1000; None when not known

    Returns
    -------
    Minerals : {"mg_pct_x100" or "cu_ppm_x100": whole number, 0 and more}, and a remark for each figure refused

    Notes
    -----
    A unit no report uses, an unreadable figure, a column that cannot be turned and more of an element than its
    richest pure compound holds are refused with a remark. Arithmetic on ten-thousandths, rounded half up.
    """
    found = Minerals()
    for name in (*MAJORS, *TRACES):
        wet, printed = received.get(name, "").strip(), dry.get(name, "").strip()
        if wet or printed:
            _read_one(name, printed or wet, not printed, units.get(name) or _usual(name), dm_x10, found)
    return found


def _usual(name: str) -> str:
    return "%" if name in MAJORS else "ppm"


def _read_one(name: str, text: str, wet: bool, unit: str, dm_x10: int | None, found: Minerals) -> None:
    written = figure(text)
    if written is None:
        return found.problems.append(Remark("unreadable", name))
    if unit not in IN_PER_CENT:
        return found.problems.append(Remark("unit_unknown", name))
    if wet and not dm_x10:
        return found.problems.append(Remark("no_dm"))
    v = ratio(written.v, 1000, dm_x10) if wet and dm_x10 else written.v
    times, over = IN_PER_CENT[unit]
    major = name in MAJORS
    # a trace stays in ppm: per cent of it has too few digits
    v = ratio(v, times if major else times * ONE, over)
    if v > (MOST_PCT[name] * ONE if major else HUNDRED * ONE):
        return found.problems.append(Remark("mineral_impossible", name, text))
    found.fields[f"{name}_pct_x100" if major else f"{name}_ppm_x100"] = whole(v, STEP)
    return None
