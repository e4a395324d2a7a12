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
    why = outside()[row.id].reason if row.id in outside() else "NOT LISTED"
    return f"  {row.id:26} {row.printed:>8} {row.value + gap:>9.4g} {gap:>+9.3g} {row.units:17} {row.source:18} {why}"


def report(kind: str) -> None:
    every = rows(kind)
    missed = [row for row in every if not row.holds(row.gap(EQUATIONS))]
    named = len({row.source for row in every})
    print(f"\n{TITLES[kind]}: {len(every)} rows from {named} sources")
    print(f"  {len(every) - len(missed)} within the last printed digit, {len(missed)} outside")
    for row in missed:
        print(miss(row))


print("row, published, ours, gap, units, source, why")
for each in KINDS:
    report(each)
