"""What no feed can be: a report that says it is refused with what to look at."""

from __future__ import annotations

from ..parameters import values
from .columns import Reading
from .energy import FORAGES
from .numbers import HUNDRED, ten_thousandths
from .words import tenths

P = values("lab")
HAYS = ("legume", "grass", "mixed")


def check_report(kind: str, cured: bool, reading: Reading) -> None:
    """Refuse what is impossible, remark on what is odd.

    Parameters
    ----------
    kind : feed kind
    cured : sold as hay, not as silage or haylage
    reading : with dry matter and shares
    """
    _dry_matter(kind in HAYS and cured, reading)
    _nesting(reading)
    _limits(kind in FORAGES, reading)


def _limit(name: str) -> int:
    return ten_thousandths(P[name])


def _dry_matter(hay: bool, reading: Reading) -> None:
    dm = reading.dm
    if dm is None:
        return
    if not _limit("dm_least") <= dm <= HUNDRED:
        reading.refuse("dm_impossible", "dm", tenths(dm))
    elif hay and dm < _limit("hay_dm_least"):
        reading.refuse("looks_like_moisture", "dm", tenths(dm))
    elif hay and dm < _limit("hay_dm_low"):
        reading.note("dm_low_for_hay", "dm", tenths(dm))


def _nesting(reading: Reading) -> None:
    dry = reading.dry
    for name, v in dry.items():
        if v > HUNDRED and name not in ("tdn", "ca", "p"):
            reading.refuse("over_100", name)
    if "adf" in dry and "ndf" in dry and dry["adf"] >= dry["ndf"]:
        reading.refuse("adf_above_ndf", "adf")
    if "lignin" in dry and "adf" in dry and dry["lignin"] >= dry["adf"]:
        reading.refuse("lignin_above_adf", "lignin")
    parts = sum(dry.get(name, 0) for name in ("cp", "ndf", "fat", "ash"))
    if parts > _limit("parts_most") and not any(problem.code == "over_100" for problem in reading.problems):
        reading.refuse("parts_over_100", "", tenths(parts))


def _limits(forage: bool, reading: Reading) -> None:
    dry = reading.dry
    cp, tdn, ca = dry.get("cp"), dry.get("tdn"), dry.get("ca")
    if forage and cp is not None and _limit("cp_most_forage") < cp <= HUNDRED:
        reading.refuse("cp_impossible", "cp", tenths(cp))
    elif forage and cp is not None and _limit("cp_nitrate") < cp <= HUNDRED:
        reading.note("nitrate", "cp")
    if tdn is not None and not _limit("tdn_least") <= tdn <= _limit("tdn_most_forage" if forage else "tdn_most"):
        reading.refuse("tdn_impossible", "tdn", tenths(tdn))
    for name in ("ca", "p"):
        if name in dry and dry[name] > _limit(f"{name}_most"):
            reading.refuse(f"{name}_impossible", name, tenths(dry[name]))
    if forage and ca is not None and _limit("ca_high_forage") < ca <= _limit("ca_most"):
        reading.note("ca_high", "ca")
    if dry.get("ash", 0) > _limit("ash_soil"):
        reading.note("soil", "ash")
