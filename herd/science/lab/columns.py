"""Two columns to one: moisture and dry matter found, units made per cent, as received turned into dry matter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from ..parameters import values
from .numbers import HUNDRED, ONE, Figure, figure, ratio, ten_thousandths
from .words import Remark, tenths

P = values("lab")
SHARES = ("cp", "ndf", "adf", "lignin", "fat", "ash", "tdn", "ca", "p")
MINERALS = ("ca", "p")
ENERGIES = ("nel", "me")
UNITS = ("", "%", "ppm", "g_kg")
ENERGY_UNITS = ("", "mcal_lb", "mcal_kg", "mj_kg")


@dataclass
class Reading:
    """A report while it is read: dry matter and figures in ten-thousandths of a per cent, remarks as they arise."""

    dm: int | None = None
    dry: dict[str, int] = field(default_factory=dict)
    problems: list[Remark] = field(default_factory=list)
    notes: list[Remark] = field(default_factory=list)

    def refuse(self, code: str, name: str = "", value: str = "") -> None:
        self.problems.append(Remark(code, name, value))

    def note(self, code: str, name: str = "", value: str = "") -> None:
        self.notes.append(Remark(code, name, value))


Column = Mapping[str, Figure]


def figures_of(column: Mapping[str, str], reading: Reading) -> dict[str, Figure]:
    """The figures of one column; blanks are left out, anything else unreadable refuses the report."""
    found: dict[str, Figure] = {}
    for name in ("dm", "moisture", *SHARES, *ENERGIES):
        text = column.get(name, "").strip()
        if not text:
            continue
        written = figure(text)
        if written is None:
            reading.refuse("unreadable", name)
        else:
            found[name] = written
    return found


def in_per_cent(column: Column, units: Mapping[str, str], reading: Reading) -> dict[str, Figure]:
    """Shares of one column in per cent; which unit was taken is noted by the caller, once per figure."""
    return {name: _per_cent(name, column[name], units.get(name, ""), reading) for name in SHARES if name in column}


def unit_of(name: str, written: Figure, unit: str) -> str:
    """The unit of a share: as said, or ppm for a mineral too large to be per cent."""
    if unit == "" and name in MINERALS and written.v > ten_thousandths(P[f"{name}_most"]):
        return "read_as_ppm"
    return unit


def _per_cent(name: str, written: Figure, unit: str, reading: Reading) -> Figure:
    taken = unit_of(name, written, unit)
    over = {"ppm": ONE, "read_as_ppm": ONE, "g_kg": 10}.get(taken, 1)
    if unit not in UNITS:
        reading.refuse("unit_unknown", name)
    elif taken in ("ppm", "read_as_ppm", "g_kg") and Remark(taken, name) not in reading.notes:
        reading.note(taken, name)
    return Figure(ratio(written.v, 1, over), max(1, written.slack // over))


def find_dry_matter(received: Column, shares: tuple[Column, Column], reading: Reading) -> None:
    """Dry matter as printed, from moisture, or from a figure both columns give."""
    dm, moisture = received.get("dm"), received.get("moisture")
    slack = ten_thousandths(P["moisture_and_dm_slack"])
    if dm and moisture and abs(dm.v + moisture.v - HUNDRED) > slack:
        reading.refuse("moisture_and_dm")
    elif dm:
        reading.dm = dm.v
    elif moisture and moisture.v < HUNDRED:
        reading.dm = HUNDRED - moisture.v
        reading.note("moisture_used")
    elif moisture:
        reading.refuse("over_100", "moisture")
    else:
        _dm_from_columns(shares, reading)


def _dm_from_columns(shares: tuple[Column, Column], reading: Reading) -> None:
    received, dry = shares
    both = [name for name in SHARES if name in received and name in dry and dry[name].v > 0]
    if both:
        # The largest figure is the one rounding touches least.
        name = max(both, key=lambda each: (dry[each].v, each))
        reading.dm = ratio(received[name].v, HUNDRED, dry[name].v)
        reading.note("dm_from_columns", name)
    elif received and not dry:
        reading.refuse("no_dm")
    elif dry:
        reading.note("dm_unknown")


def to_dry_matter(received: Column, dry: Column, reading: Reading) -> None:
    """Every share in dry matter: printed so, or turned; where both columns give it they must agree."""
    for name in SHARES:
        if name in dry:
            reading.dry[name] = dry[name].v
            if name in received:
                _compare(name, received[name], dry[name], reading)
        elif name in received and reading.dm:
            reading.dry[name] = ratio(received[name].v, HUNDRED, reading.dm)
            reading.note("from_as_received", name)
        elif name in received and not any(problem.code == "no_dm" for problem in reading.problems):
            reading.refuse("no_dm")


def _compare(name: str, received: Figure, dry: Figure, reading: Reading) -> None:
    if received.v > dry.v + dry.slack:
        reading.refuse("columns_swapped", name)
    elif reading.dm:
        turned = ratio(received.v, HUNDRED, reading.dm)
        allowed = ratio(dry.v, ten_thousandths(P["agree_pct"]), HUNDRED) + dry.slack
        allowed += ratio(received.slack, HUNDRED, reading.dm)
        if abs(turned - dry.v) > allowed:
            reading.refuse("columns_disagree", name, tenths(turned))
