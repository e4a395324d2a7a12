"""Which call of the compiler made each citation: every equation called while a doe is compiled, with who called it.

It listens to the interpreter and not to the record, so the one can be held against the other.
"""

from __future__ import annotations

import sys
from collections.abc import Mapping
from datetime import date
from types import FrameType
from typing import Any

from herd.outlook.compile import record_of
from herd.science.base import record
from herd.science.base.citable import citable
from herd.science.dates import conception, exposure, gestation
from tests.support.paths import ROOT

COMPILER, SCIENCE = str(ROOT / "herd/outlook"), str(ROOT / "herd/science")
Calls = dict[tuple[str, str], set[str]]


def calls_of(doe: Mapping[str, Any], rules: Mapping[str, Any], today: date) -> Calls:
    """{(term, equation): places in the compiler the call came from}; terms as open at that moment."""
    known, found = set(citable()), Calls()
    # while an answer is made for keeps the term stays the one it was asked in
    term = ""

    def listen(frame: FrameType, event: str, _: object) -> None:
        nonlocal term
        if event == "call" and frame.f_code.co_filename.startswith(SCIENCE):
            term = _term(term)
            name = f"{_module(frame)}.{frame.f_code.co_qualname}"
            if name in known:
                found.setdefault((term, name), set()).add(_caller(frame))

    for kept in (gestation.due_quantile, exposure.conception_weights, conception.conception_chances):
        kept.__dict__["forget"]()
    sys.setprofile(listen)
    try:
        record_of(doe, rules, today)
    finally:
        sys.setprofile(None)
    return {pair: places for pair, places in found.items() if pair[0]}


def _module(frame: FrameType) -> str:
    return str(frame.f_globals["__name__"]).removeprefix(record.SCIENCE)


def _term(before: str) -> str:
    heard, ran = record._heard.get(), record._record.get() or {}
    if heard is None:
        return ""
    return next((term for term, those in ran.items() if those is heard), before)


def _caller(frame: FrameType) -> str:
    """The nearest line of the compiler above a call."""
    above: FrameType | None = frame
    while above is not None and not above.f_code.co_filename.startswith(COMPILER):
        above = above.f_back
    if above is None:
        return "?"
    return f"{above.f_code.co_filename.removeprefix(f'{ROOT}/')}:{above.f_lineno} {above.f_code.co_name}"
