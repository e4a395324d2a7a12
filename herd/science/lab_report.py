"""A laboratory report, as printed, to the figures a feed or a lot keeps.

A phone carries a twin of this file: whole numbers only, and tests/vectors/lab holds both to the same outcomes.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from .lab.checks import check_report
from .lab.columns import Reading, figures_of, find_dry_matter, in_per_cent, to_dry_matter
from .lab.energy import settle_tdn
from .lab.numbers import whole
from .lab.words import Remark

# Field on the record, figure of the report, ten-thousandths in one step of the field.
FIELDS = (
    ("tdn_pct_x10", "tdn", 1000),
    ("cp_pct_x10", "cp", 1000),
    ("ndf_pct_x10", "ndf", 1000),
    ("ca_pct_x100", "ca", 100),
    ("p_pct_x100", "p", 100),
)
DM_FIELD, DM_STEP = "dm_pct_x10", 1000
KINDS = ("legume", "grass", "mixed", "corn_silage", "grain", "other")


@dataclass(frozen=True)
class Report:
    """A report as printed, every figure as text; fields as in lab.words.NAMES, blank or left out when not printed.

    Units by field: "" when the report says none, "%", "ppm" or "g_kg"; for nel and me "mcal_lb", "mcal_kg", "mj_kg".
    """

    received: Mapping[str, str]
    dry: Mapping[str, str]
    units: Mapping[str, str]
    kind: str = "other"
    cured: bool = False
    tdn_by: str = ""


@dataclass(frozen=True)
class Outcome:
    """Fields for a feed or lot record, empty when refused; how TDN came to be; problems refuse, notes explain."""

    fields: Mapping[str, int]
    tdn_by: str
    problems: tuple[Remark, ...]
    notes: tuple[Remark, ...]

    @property
    def refused(self) -> bool:
        """Whether the report says what no feed can be."""
        return bool(self.problems)


def read_report(report: Report) -> Outcome:
    """Read a report into the units feeds and lots are kept in.

    Equation: dry matter value = as received x 100 / DM; TDN by the laboratory, ME / 0.03615, (NEL + 0.054) / 0.01114
    per lb, 82.38 - 0.7515 ADF for legumes, 87.84 - 0.70 ADF for corn silage

    Parameters
    ----------
    report : as printed

    Returns
    -------
    Outcome: dm_pct_x10 of the feed as fed, the others of dry matter; a figure not printed is left out, never nought

    Validity
    --------
    One grass bale scored 49 % TDN one way and 63 % from fibre alone: grass gets no TDN from fibre.

    References
    ----------
    msu_forage_report; agproud_forage_tests; nfta; bath_marble1989; nrc1981
    """
    reading = Reading()
    received, dry = figures_of(report.received, reading), figures_of(report.dry, reading)
    shares = in_per_cent(received, report.units, reading), in_per_cent(dry, report.units, reading)
    if not received and not dry and not reading.problems:
        reading.refuse("no_figures")
    find_dry_matter(received, shares, reading)
    to_dry_matter(*shares, reading)
    way = settle_tdn((received, dry), report.units, report.kind, report.tdn_by, reading)
    check_report(report.kind, report.cured, reading)
    if reading.problems:
        return Outcome({}, "unknown", tuple(reading.problems), ())
    return Outcome(_fields(reading), way, (), tuple(reading.notes))


def _fields(reading: Reading) -> dict[str, int]:
    found = {} if reading.dm is None else {DM_FIELD: whole(reading.dm, DM_STEP)}
    return {**found, **{name: whole(reading.dry[of], step) for name, of, step in FIELDS if of in reading.dry}}
