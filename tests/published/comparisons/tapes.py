"""Weight from a tape: what a keeper who writes the girth down could compare with."""

from __future__ import annotations

from tests.published.comparisons.numbers import check, values

P = values("tapes")


def weight_from_tape_nakanishi2017(girth_cm: float, length_cm: float) -> float:
    """Weight from heart girth and body length.

    Equation: kg = 89.96 G^2 L + 2.29, metres

    Parameters
    ----------
    girth_cm : scalar [cm], 40 to 130
    length_cm : scalar [cm], 35 to 120; point of shoulder to pin bone

    Returns
    -------
    scalar [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    595 records of Saanens; residual SD 4.45 kg. No miniature equation exists. Not for dosing.

    References
    ----------
    nakanishi2017
    """
    check(girth_cm=girth_cm, length_cm=length_cm)
    return P["saanen_slope"] * (girth_cm / 100) ** 2 * (length_cm / 100) + P["saanen_base_kg"]


def weight_from_tape_rule300(girth_cm: float, length_cm: float) -> float:
    """Weight from heart girth and body length by the old rule.

    Equation: lb = girth^2 x length / 300, inches

    Parameters
    ----------
    girth_cm : scalar [cm], 40 to 130
    length_cm : scalar [cm], 35 to 120

    Returns
    -------
    scalar [kg]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    wsu_girth
    """
    check(girth_cm=girth_cm, length_cm=length_cm)
    return P["rule300_slope"] * (girth_cm / 100) ** 2 * (length_cm / 100)


def weight_from_girth(girth_cm: float) -> float:
    """Weight from heart girth alone.

    Equation: kg = 0.000566 G^2.57, cm

    Parameters
    ----------
    girth_cm : scalar [cm], 40 to 130

    Returns
    -------
    scalar [kg]

    Raises
    ------
    OutOfRange : girth_cm outside its range

    Validity
    --------
    Power fit to a chart for standard dairy breeds, within 4 %.

    References
    ----------
    girth_chart
    """
    check(girth_cm=girth_cm)
    return float(P["girth_slope"] * girth_cm ** P["girth_power"])
