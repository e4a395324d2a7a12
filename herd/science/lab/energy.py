"""Energy of a report as TDN: the laboratory's own, or from NEL, ME or fibre, and which way it was."""

from __future__ import annotations

from collections.abc import Mapping

from ..parameters import values
from .columns import ENERGY_UNITS, Column, Reading
from .numbers import HUNDRED, Figure, ratio, ten_thousandths
from .words import hundredths

P = values("lab")
FORAGES = ("legume", "grass", "mixed", "corn_silage")
# How a TDN came to be; a keeper who knows the laboratory's equation may say it.
TDN_WAYS = ("summative", "california", "oklahoma", "lab", "me", "nel", "fibre_legume", "fibre_corn_silage", "unknown")


def settle_tdn(columns: tuple[Column, Column], units: Mapping[str, str], kind: str, said: str, reading: Reading) -> str:
    """TDN in dry matter, and how it came to be.

    Parameters
    ----------
    columns : as received, dry matter
    units : unit by field, "" when the report says none
    kind : feed kind; one of FORAGES, "grain" or "other"
    said : the laboratory's equation as the keeper knows it, "" when not
    reading : with shares in dry matter; TDN is put there

    Returns
    -------
    one of TDN_WAYS
    """
    if "tdn" in reading.dry:
        return said if said in TDN_WAYS[:3] else "lab"
    for name, way in (("me", _from_me), ("nel", _from_nel)):
        per_kg = _energy(name, columns, units.get(name, ""), kind, reading)
        if per_kg is not None:
            reading.dry["tdn"] = way(per_kg)
            return name
    return _from_fibre(kind, reading)


def _energy(name: str, columns: tuple[Column, Column], unit: str, kind: str, reading: Reading) -> int | None:
    """Mcal per kg of dry matter [1/10000], None when the report has none."""
    received, dry = columns
    written = dry.get(name) or received.get(name)
    if written is None:
        return None
    if unit not in ENERGY_UNITS:
        reading.refuse("unit_unknown", name)
        return None
    per_kg = _per_kg(name, written, unit, kind in FORAGES, reading)
    if name in dry or per_kg is None:
        return per_kg
    if not reading.dm:
        return None
    reading.note("from_as_received", name)
    return ratio(per_kg, HUNDRED, reading.dm)


def _per_kg(name: str, written: Figure, unit: str, forage: bool, reading: Reading) -> int | None:
    most_lb = ten_thousandths(P[f"{name}_lb_most_forage" if forage else f"{name}_lb_most"])
    most_kg = ten_thousandths(P["energy_kg_most"])
    taken = unit or ("mcal_lb" if written.v <= most_lb else "mcal_kg" if written.v <= most_kg else "mj_kg")
    if (taken == "mcal_lb" and written.v > most_lb) or (taken == "mcal_kg" and written.v > most_kg):
        reading.refuse("energy_unit", name, hundredths(written.v))
        return None
    if not unit:
        reading.note({"mcal_lb": "read_per_lb", "mcal_kg": "read_per_kg", "mj_kg": "read_as_mj"}[taken], name)
    if taken == "mcal_lb":
        return ratio(written.v, ten_thousandths(P["lb_per_kg"]), 10_000)
    return ratio(written.v, 1000, round(P["kj_per_mcal"])) if taken == "mj_kg" else written.v


def _from_me(per_kg: int) -> int:
    """TDN = ME / 0.03615."""
    return ratio(per_kg, 100_000, round(P["me_per_tdn"] * 100_000))


def _from_nel(per_kg: int) -> int:
    """TDN = (NEL per lb + 0.054) / 0.01114."""
    per_lb = ratio(per_kg, 10_000, ten_thousandths(P["lb_per_kg"]))
    return ratio(per_lb - ten_thousandths(P["nel_base"]), 100_000, round(P["tdn_per_nel"] * 100_000))


def _from_fibre(kind: str, reading: Reading) -> str:
    """Legume and corn silage have an equation on fibre alone; grass has none that was read, so it stays unknown."""
    if kind not in ("legume", "corn_silage") or "adf" not in reading.dry:
        reading.note("tdn_unknown")
        return "unknown"
    top, slope = ten_thousandths(P[f"{kind}_top"]), ten_thousandths(P[f"{kind}_slope"])
    reading.dry["tdn"] = top - ratio(slope, reading.dry["adf"], 10_000)
    reading.note("tdn_from_fibre_only")
    return f"fibre_{kind}"
