"""A figure as a laboratory printed it, as whole ten-thousandths: 18.25 is 182500. A phone reads it to the same."""

from __future__ import annotations

import re

ONE = 10_000
WRITTEN = re.compile(r"([0-9]{1,6})(?:[.,]([0-9]{1,4}))?")


def figure(text: str) -> int | None:
    """A written figure, with a point or a comma; None when it is no plain number.

    Parameters
    ----------
    text : as typed or printed

    Returns
    -------
    scalar [1/10000] or None
    """
    found = WRITTEN.fullmatch(text.strip())
    return None if found is None else int(found[1]) * ONE + int((found[2] or "").ljust(4, "0"))
