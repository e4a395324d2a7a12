"""Signs of kidding as tables of whole numbers: what a phone weighs a look by. The same for every farm that has not seen
enough kiddings of its own.
"""

from __future__ import annotations

from itertools import accumulate
from math import exp

from herd.science.base.record import remembered
from herd.science.dates.signs import (
    SIGNS,
    Lead,
    careful_log,
    shown_limits,
    sign_absent,
    sign_new,
    sign_present,
)

from ..shapes import Signs, SignTable

# Points fine near the first kid and coarse far from it, in minutes; 12, 24 and 48 hours are among them.
RUNS = ((8, 30), (12, 60), (8, 120), (8, 240), (8, 480), (8, 1440), (5, 5760))
LEAD_MIN = tuple(accumulate((step for count, step in RUNS for _ in range(count)), initial=0))
GAPS_H = (2, 6, 12, 24)
BITS = 14


Leads = tuple[tuple[str, Lead, int], ...]


@remembered(64)
def sign_tables(leads: Leads = ()) -> Signs:
    """All of it. `leads`: of some signs the farm's own timing, and how many kiddings it stands on."""
    least, most = shown_limits()
    own = {sign: lead for sign, lead, _ in leads}
    return {
        "lead_min": list(LEAD_MIN),
        "gaps_h": list(GAPS_H),
        "exp_ppb": [round(1e9 * exp(-(2**bit) / 1000)) for bit in range(BITS)],
        "least_pct": round(100 * least),
        "most_pct": round(100 * most),
        "of": {sign: _table(sign, own.get(sign)) for sign in SIGNS},
        "own": {sign: [n, round(60 * lead.median_h)] for sign, lead, n in leads},
    }


def _table(sign: str, own: Lead | None) -> SignTable:
    leads_h = [minutes / 60 for minutes in LEAD_MIN]
    return {
        "present": [_milli(sign_present(sign, lead_h, own), True) for lead_h in leads_h],
        "absent": [_milli(sign_absent(sign, lead_h, own), False) for lead_h in leads_h],
        "new": [[_milli(sign_new(sign, lead_h, gap_h, own), True) for lead_h in leads_h] for gap_h in GAPS_H],
    }


def _milli(chance: float, seen: bool) -> int:
    return round(1000 * careful_log(chance, seen))
