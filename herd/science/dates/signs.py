"""Signs of kidding: how likely each is to be seen, not seen, or new since the last look, by hours to the first kid."""

from __future__ import annotations

from dataclasses import dataclass
from math import exp, log
from statistics import NormalDist

from ..base.record import equation
from ..base.validity import check
from ..parameters import values

P = values("signs")
SIGNS = (
    *("udder_full", "teats_strutted", "ligaments_soft", "ligaments_gone", "tail_raised", "vulva_slack", "mucus_thin"),
    *("mucus_amber", "temp_drop", "alone", "off_feed", "pawing", "talking"),
)
STANDARD = NormalDist()
# a tenth and nine tenths of a normal lie so many standard deviations apart
P10_TO_P90 = 2 * STANDARD.inv_cdf(0.9)


@dataclass(frozen=True)
class Lead:
    """A farm's own timing of a sign, in place of the judged one: median [h], spread of its log, share showing it."""

    median_h: float
    spread: float
    shows: float


@equation
def sign_earlier(sign: str, lead_h: float, own: Lead | None = None) -> float:
    """Chance that a sign has shown by so many hours before the first kid, in a doe that ever shows it: lognormal.

    Equation: 1 - Phi((ln lead - ln median) / s), s = ln(P90 / P10) / 2.563

    Parameters
    ----------
    sign : one of SIGNS
    lead_h : scalar [h], 0 to 2400, before the first kid
    own : the farm's own timing, where it has one

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : lead_h outside its range

    Validity
    --------
    No study of goats measured lead times: medians and spreads are judged from extension texts, keepers and sheep.

    References
    ----------
    judgement; lickliter1985 for going off alone
    """
    check(lead_h=lead_h)
    lead = own or lead_judged(sign)
    if lead_h <= 0:
        return 1.0
    return 1 - STANDARD.cdf(log(lead_h / lead.median_h) / lead.spread)


@equation
def sign_present(sign: str, lead_h: float, own: Lead | None = None) -> float:
    """Chance that a look finds a sign, nobody knowing since when: it has shown, or it is called by mistake.

    Parameters
    ----------
    sign : one of SIGNS
    lead_h : scalar [h], 0 to 2400, from the look to the first kid
    own : the farm's own timing, where it has one

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : lead_h outside its range

    References
    ----------
    judgement
    """
    shown = _shows(sign, own) * sign_earlier(sign, lead_h, own)
    return shown + (1 - shown) * _mistaken(sign)


@equation
def sign_absent(sign: str, lead_h: float, own: Lead | None = None) -> float:
    """Chance that a look does not find a sign.

    Parameters
    ----------
    sign : one of SIGNS
    lead_h : scalar [h], 0 to 2400, from the look to the first kid
    own : the farm's own timing, where it has one

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : lead_h outside its range

    References
    ----------
    judgement
    """
    return 1 - sign_present(sign, lead_h, own)


@equation
def sign_new(sign: str, lead_h: float, gap_h: float, own: Lead | None = None) -> float:
    """Chance that a look finds a sign which the one before it did not.

    Parameters
    ----------
    sign : one of SIGNS
    lead_h : scalar [h], 0 to 2400, from the look to the first kid
    gap_h : scalar [h], 0 to 2400, between the two looks
    own : the farm's own timing, where it has one

    Returns
    -------
    scalar [ratio]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    judgement
    """
    check(gap_h=gap_h)
    by_now, by_then = (sign_earlier(sign, hours, own) for hours in (lead_h, min(lead_h + gap_h, 2400)))
    shows = _shows(sign, own)
    return shows * (by_now - by_then) + (1 - shows * by_now) * _mistaken(sign)


@equation
def careful_log(chance: float, seen: bool) -> float:
    """Log of what a look found, drawn toward nothing: signs come together, and two are no two witnesses.

    Equation: power x ln chance, one power for what is there or new, another for what is not

    Parameters
    ----------
    chance : scalar [ratio], above 0
    seen : a sign that is there, or is new; not one that is not

    Returns
    -------
    scalar [ln]

    Validity
    --------
    Judged, then fitted on simulated kiddings whose lead times are not ours: 0.6 on
    all and a further half on what is seen, with which we began, said 24 in a hundred where 51 kidded.

    References
    ----------
    judgement
    """
    return P["seen_power" if seen else "absent_power"] * log(chance)


@equation
def shown_limits() -> tuple[float, float]:
    """The least and the most chance a keeper is shown.

    Returns
    -------
    (least, most) [ratio]

    References
    ----------
    judgement
    """
    return P["least_shown"], P["most_shown"]


def lead_judged(sign: str) -> Lead:
    """The timing judged here."""
    median, low, high = (P[f"{sign}_{name}_h"] for name in ("median", "p10", "p90"))
    return Lead(median, log(high / low) / P10_TO_P90, P[f"{sign}_shows"])


def _shows(sign: str, own: Lead | None) -> float:
    return own.shows if own else P[f"{sign}_shows"]


def _mistaken(sign: str) -> float:
    return 1 - exp(-P["false_lasts_d"] * P[f"{sign}_false_d"])
