"""One number or one number per day: the argument and result type of every equation."""

from __future__ import annotations

from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

Days = NDArray[np.float64]
Num = float | Days


def exp(x: Num) -> Num:
    return cast(Num, np.exp(x))


def power(base: Num, exponent: Num) -> Num:
    return cast(Num, np.power(base, exponent))


def minimum(a: Num, b: Num) -> Num:
    return cast(Num, np.minimum(a, b))


def maximum(a: Num, b: Num) -> Num:
    return cast(Num, np.maximum(a, b))


def where(condition: Any, then: Num, otherwise: Num) -> Num:
    return cast(Num, np.where(condition, then, otherwise))
