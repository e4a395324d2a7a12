"""Readings a keeper can take: ketones in blood and urine, calcium from the vet's bench, temperature."""

from __future__ import annotations

from ..parameters import values
from ..validity import check

P = values("risk")
KETONE_BANDS = ("ok", "watch", "subclinical", "clinical", "emergency")
URINE = ("negative", "trace", "small", "moderate", "large")
URINE_BANDS = ("ok", "repeat", "subclinical", "vet")
TEMPERATURE_BANDS = ("red_low", "amber_low", "ok", "amber_high", "red_high")
KID_BANDS = ("emergency", "cold", "ok")
CALCIUM_BANDS = ("emergency", "vet", "low", "normal")


def _first_above(value: float, limits: tuple[tuple[str, float], ...], lowest: str) -> str:
    return next((name for name, limit in limits if value >= limit), lowest)


def ketone_band(bhb_mmol_l: float) -> str:
    """Band of a blood ketone reading in the last six weeks.

    Equation: watch from 0.5, subclinical from 0.8, clinical from 1.6, emergency from 3.0

    Parameters
    ----------
    bhb_mmol_l : scalar [mmol/L], 0 to 12

    Returns
    -------
    one of KETONE_BANDS

    Raises
    ------
    OutOfRange : bhb_mmol_l outside its range

    Validity
    --------
    A doe off her feed or down is for the vet whatever it reads: the reading did not tell survivors from the others.

    References
    ----------
    marutsova2017; dore2015; vijayanand2022; lima2016
    """
    check(bhb_mmol_l=bhb_mmol_l)
    names = ("emergency", "clinical", "subclinical", "watch")
    return _first_above(bhb_mmol_l, tuple((name, P[f"bhb_{name}"]) for name in names), "ok")


def ketone_mg_dl(bhb_mmol_l: float) -> float:
    """The same reading in mg/dL.

    Equation: 10.4 x mmol/L

    Parameters
    ----------
    bhb_mmol_l : scalar [mmol/L], 0 to 12

    Returns
    -------
    scalar [mg/dL]

    Raises
    ------
    OutOfRange : bhb_mmol_l outside its range
    """
    check(bhb_mmol_l=bhb_mmol_l)
    return P["bhb_mg_dl"] * bhb_mmol_l


def urine_band(strip: str, with_signs: bool = False) -> str:
    """Band of a urine strip: a negative reassures, a positive needs blood or a vet.

    Parameters
    ----------
    strip : one of URINE
    with_signs : any sign of sickness

    Returns
    -------
    one of URINE_BANDS

    Raises
    ------
    KeyError : a word not on the strip

    Validity
    --------
    No cut-off was validated in goats; in cows the strip missed none and cried wolf one time in three.

    References
    ----------
    nielen1994; judgement
    """
    band = {"negative": "ok", "trace": "repeat", "small": "subclinical", "moderate": "vet", "large": "vet"}[strip]
    return "vet" if with_signs and band != "ok" else band


def temperature_band(temp_c: float) -> str:
    """Band of a grown doe's temperature at rest.

    Equation: ok 38.5 to below 39.8, red below 38.0 and from 40.5, amber between

    Parameters
    ----------
    temp_c : scalar [degC], 30 to 44

    Returns
    -------
    one of TEMPERATURE_BANDS

    Raises
    ------
    OutOfRange : temp_c outside its range

    References
    ----------
    penn_vitals; judgement
    """
    check(temp_c=temp_c)
    steps = (("red_high", "temp_red_high"), ("amber_high", "temp_ok_high"), ("ok", "temp_ok_low"))
    limits = (*((name, P[limit]) for name, limit in steps), ("amber_low", P["temp_red_low"]))
    return _first_above(temp_c, limits, "red_low")


def kid_temperature_band(temp_c: float) -> str:
    """Band of a newborn kid's temperature.

    Equation: emergency below 37, cold below 38.5

    Parameters
    ----------
    temp_c : scalar [degC], 30 to 44

    Returns
    -------
    one of KID_BANDS

    Raises
    ------
    OutOfRange : temp_c outside its range

    Validity
    --------
    A kid older than five hours and under 37 needs the vet before warming.

    References
    ----------
    kid_hypothermia
    """
    check(temp_c=temp_c)
    return _first_above(temp_c, (("ok", P["kid_cold"]), ("cold", P["kid_emergency"])), "emergency")


def calcium_band(ca_mmol_l: float) -> str:
    """Band of total serum calcium. Ionised calcium has no band: laboratories differ too much.

    Equation: normal from 2.1, low from 1.7, vet from 1.5, emergency below

    Parameters
    ----------
    ca_mmol_l : scalar [mmol/L], 0.3 to 5

    Returns
    -------
    one of CALCIUM_BANDS

    Raises
    ------
    OutOfRange : ca_mmol_l outside its range

    Validity
    --------
    On the first two days after kidding 2.0 is common.

    References
    ----------
    abga_vet_note; pvamu_milk_fever
    """
    check(ca_mmol_l=ca_mmol_l)
    steps = (("normal", P["ca_normal"]), ("low", P["ca_vet"]), ("vet", P["ca_emergency"]))
    return _first_above(ca_mmol_l, steps, "emergency")


def calcium_mmol_l(ca_mg_dl: float) -> float:
    """Serum calcium from the other unit benches print.

    Equation: 0.2495 x mg/dL

    Parameters
    ----------
    ca_mg_dl : scalar [mg/dL], 1 to 20

    Returns
    -------
    scalar [mmol/L]

    Raises
    ------
    OutOfRange : ca_mg_dl outside its range
    """
    check(ca_mg_dl=ca_mg_dl)
    return P["ca_mmol_l"] * ca_mg_dl
