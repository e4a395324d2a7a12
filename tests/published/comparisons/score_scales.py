"""Condition on other scales than ours of 1 to 5."""

from __future__ import annotations

from herd.science.base.errors import OutOfRange

LOWEST, HIGHEST = 1.0, 5.0


def nine_point_score(score: float) -> float:
    """The same condition on the 1 to 9 scale some extension sheets use.

    Equation: 2 s - 1

    Parameters
    ----------
    score : scalar [points], 1 to 5

    Returns
    -------
    scalar [points], 1 to 9

    Raises
    ------
    OutOfRange : score outside its range

    References
    ----------
    goat_extension_repro, table
    """
    if not LOWEST <= score <= HIGHEST:
        raise OutOfRange("score", score, LOWEST, HIGHEST, "goat_extension_repro")
    return 2 * score - 1
