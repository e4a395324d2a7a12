"""`python -m tests.published`: how many published values our equations meet, and each one they do not."""

from __future__ import annotations

from tests.published.equations import EQUATIONS
from tests.published.rows import KINDS, Row, outside, rows

TITLES = {
    "read": "read in a published source",
    "derived": "worked by hand from read equations (arithmetic only)",
    "memory": "recalled or judged (arithmetic only)",
}


def miss(row: Row) -> str:
    gap = row.gap(EQUATIONS)
    ours, why = row.value + gap, outside()[row.id].reason if row.id in outside() else "NOT LISTED"
    return f"{row.id:26} {row.value:>9g} {ours:>10.4g} {gap:>+10.3g}  {row.units:18} {row.source:20} {why}"


def report(kind: str) -> None:
    every = rows(kind)
    missed = [row for row in every if not row.holds(row.gap(EQUATIONS))]
    named = len({row.source for row in every})
    print(f"\n{TITLES[kind]}: {len(every)} rows from {named} sources, {len(every) - len(missed)} within the last ")
    print(f"printed digit, {len(missed)} outside")
    if missed:
        print(f"{'row':26} {'published':>9} {'ours':>10} {'gap':>10}  {'units':18} {'source':20} why")
    for row in missed:
        print(miss(row))


for each in KINDS:
    report(each)
