"""Metabolizable protein, and the crude protein that supplies it."""

from __future__ import annotations

from ..base.arrays import Num, power
from ..base.record import equation
from ..base.validity import check
from ..parameters import values
from .maintenance import metabolic_weight

P = values("protein")


@equation
def maintenance_protein_nsahlai2004(dmi_kg: Num, body_weight_kg: Num) -> Num:
    """Metabolizable protein for maintenance of a mature doe.

    Equation: MP = 26.7 DMI + 1.031 BW^0.75 + 0.2 BW^0.6

    Parameters
    ----------
    dmi_kg : scalar or 1-D, n days [kg DM/d], 0 to 8
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    Validity
    --------
    Goes with milk at 1.45; never with 1.30.

    References
    ----------
    nsahlai2004_protein
    """
    return fecal_protein_nsahlai2004(dmi_kg) + body_protein(body_weight_kg)


@equation
def fecal_protein_nsahlai2004(dmi_kg: Num) -> Num:
    """The part of maintenance protein that goes with what she eats.

    Equation: 26.7 DMI

    Parameters
    ----------
    dmi_kg : scalar or 1-D, n days [kg DM/d], 0 to 8

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : dmi_kg outside its range

    References
    ----------
    nsahlai2004_protein
    """
    check(dmi_kg=dmi_kg)
    return P["fecal_g_per_kg_dm"] * dmi_kg


@equation
def body_protein(body_weight_kg: Num) -> Num:
    """The part of maintenance protein that does not depend on intake: urinary and scurf.

    Equation: 1.031 BW^0.75 + 0.2 BW^0.6

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : body_weight_kg outside its range

    References
    ----------
    nsahlai2004_protein
    """
    scurf = P["scurf_g"] * power(body_weight_kg, P["scurf_exponent"])
    return P["urinary_g_mbw"] * metabolic_weight(body_weight_kg) + scurf


@equation
def lactation_protein(milk_protein_g: Num) -> Num:
    """Metabolizable protein for milk.

    Equation: MP = 1.45 x milk protein

    Parameters
    ----------
    milk_protein_g : scalar or 1-D, n days [g/d], 0 to 700

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : milk_protein_g outside its range

    References
    ----------
    nrc2007
    """
    check(milk_protein_g=milk_protein_g)
    return P["per_milk_protein"] * milk_protein_g


@equation
def growing_protein_luo2004(body_weight_kg: Num, gain_g: Num) -> Num:
    """Metabolizable protein for maintenance and gain of a growing dairy goat.

    Equation: MP = 3.07 BW^0.75 + 0.290 gain

    Parameters
    ----------
    body_weight_kg : scalar or 1-D, n days [kg], 5 to 140
    gain_g : scalar or 1-D, n days [g/d], 0 to 350

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    luo2004_protein
    """
    check(gain_g=gain_g)
    return P["growing_g_mbw"] * metabolic_weight(body_weight_kg) + P["growing_g_g"] * gain_g


@equation
def mp_per_cp(uip_share: float = 0.20) -> float:
    """Metabolizable protein per unit of crude protein.

    Equation: 0.64 + 0.16 x undegraded share; 0.672 at 0.20

    Parameters
    ----------
    uip_share : scalar [ratio], 0 to 1

    Returns
    -------
    scalar [g/g]

    Raises
    ------
    OutOfRange : uip_share outside its range

    References
    ----------
    nrc2000
    """
    check(uip_share=uip_share)
    return P["mp_per_cp_degraded"] + P["mp_per_cp_slope"] * uip_share


@equation
def crude_protein(mp_g: Num, uip_share: float | None = None) -> Num:
    """Crude protein that supplies a metabolizable protein need.

    Parameters
    ----------
    mp_g : scalar or 1-D, n days [g/d], 0 to 1200
    uip_share : scalar [ratio], 0 to 1; None for the fixed 0.20

    Returns
    -------
    scalar or 1-D, n days [g/d]

    Raises
    ------
    OutOfRange : an argument outside its range

    References
    ----------
    nrc2000
    """
    check(mp_g=mp_g)
    return mp_g / mp_per_cp(P["uip_share"] if uip_share is None else uip_share)
