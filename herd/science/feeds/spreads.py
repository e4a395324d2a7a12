"""What is not known, as spread: one standard deviation of each source of doubt, as a share of the value."""

from __future__ import annotations

import numpy as np

from ..base.record import equation


@equation
def together_pm(*spreads: int) -> int:
    """Spread of a product of things that are wrong independently of each other.

    Equation: square root of the sum of squares

    Parameters
    ----------
    spreads : scalars [permille]

    Returns
    -------
    scalar [permille]
    """
    return round(float(np.linalg.norm(spreads)))
