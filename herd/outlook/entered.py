"""What a keeper wrote about an own feed or lot, in the book's units: from a bag, a forage test, a tray of sprouts."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from herd.science.base.errors import MissingInput, OutOfRange
from herd.science.feeds.composition import me_from_tdn
from herd.science.feeds.library import feeds
from herd.science.feeds.sprout_feed import sprout_feed
from herd.science.parameters import values
from herd.state.tables import CODES

BookFeed = dict[str, str | int | None]
TESTED_SD_PM = int(values("spreads")["tested_energy"])
FIBRE_SD_PM = int(values("spreads")["fibre_energy"])
FIBRE_WAYS = ("fibre_legume", "fibre_corn_silage")
SPROUTED = ("dm_pm", "me_kj_kg", "cp_ug_g", "ndf_pm", "ca_ug_g", "p_ug_g")
# field on the record, figure in the book, factor from the keeper's unit
FIELDS = (
    ("dm_pct_x10", "dm_pm", 1),
    ("cp_pct_x10", "cp_ug_g", 1000),
    ("ndf_pct_x10", "ndf_pm", 1),
    ("ca_pct_x100", "ca_ug_g", 100),
    ("p_pct_x100", "p_ug_g", 100),
    ("uip_pct_x10", "uip_pm", 1),
    *((f"{name}_pct_x100", f"{name}_ug_g", 100) for name in CODES["majors"]),
    *((f"{name}_ppm_x100", f"{name}_ng_g", 10) for name in CODES["traces"]),
)


def entered(f: Mapping[str, Any]) -> BookFeed:
    """Figures of one record that win over those of the feed it is like; what was left blank is not in it.

    Parameters
    ----------
    f : fields of a feed or lot record

    Returns
    -------
    Figures per kg of dry matter: minerals in ug/g, traces in ng/g, the rest as the book has them.
    """
    return {**_sprouted(f), **_written(f), **_energy(f)}


def _written(f: Mapping[str, Any]) -> BookFeed:
    found: BookFeed = {figure: f[field] * factor for field, figure, factor in FIELDS if type(f.get(field)) is int}
    if f.get("class"):
        found["class"] = str(f["class"])
    return found


def _energy(f: Mapping[str, Any]) -> BookFeed:
    if type(f.get("tdn_pct_x10")) is not int:
        return {}
    try:
        me_kj_kg = round(float(me_from_tdn(f["tdn_pct_x10"] / 10)))
    except OutOfRange:
        return {"me_kj_kg": None}
    return {"me_kj_kg": me_kj_kg, "me_sd_pm": FIBRE_SD_PM if f.get("tdn_by") in FIBRE_WAYS else TESTED_SD_PM}


def _sprouted(f: Mapping[str, Any]) -> BookFeed:
    """A tray by the mass balance; one that cannot be leaves the figures of the feed it is like."""
    grain = feeds().get(str(f.get("sprout_of") or ""))
    grain_g, days, tray_g = (f.get(name) or 0 for name in ("sprout_grain_g", "sprout_days", "sprout_tray_g"))
    if grain is None or not grain_g or not days:
        return {}
    try:
        tray = sprout_feed(grain, grain_g / 1000, days, tray_g / 1000 if tray_g else None)
    except (OutOfRange, MissingInput):
        return {}
    return {**{name: getattr(tray, name) for name in SPROUTED}, "class": "fodder", "tray_g": tray.fresh_g}
