"""Body weight from a tape, and what a doe of her class weighs."""

from __future__ import annotations

from ..base.record import equation
from ..parameters import values

B = values("breeds")


def breed_key(breed: str, size: str) -> str:
    """The row of breed defaults to use; an unknown breed takes the middling doe of its size.

    Parameters
    ----------
    breed : breed code
    size : "standard" or "mini"

    Returns
    -------
    str
    """
    return breed if f"{breed}_mature_kg" in B else f"unknown_{size}"


@equation
def mature_weight(breed: str, size: str) -> float:
    """Mature weight by breed.

    Parameters
    ----------
    breed : breed code
    size : "standard" or "mini"

    Returns
    -------
    scalar [kg]

    Validity
    --------
    What grown does weigh where herds were weighed; elsewhere a little above the least a breed standard asks.

    References
    ----------
    goetsch2001; ufa_intake_trial; toggenburg_pages; nubian_page; goat_extension_pygmy; ndgsa; breed_standards
    """
    return B[f"{breed_key(breed, size)}_mature_kg"]


@equation
def breed_milk(breed: str, size: str) -> tuple[float, float, float]:
    """Milk to expect by breed.

    Parameters
    ----------
    breed : breed code
    size : "standard" or "mini"

    Returns
    -------
    (305-day total [kg], fat [%], protein [%])

    References
    ----------
    cornell_4h; cdcb2024; valencia2022
    """
    key = breed_key(breed, size)
    return B[f"{key}_305_kg"], B[f"{key}_fat_pct"], B[f"{key}_protein_pct"]
