"""Somebody's place on a farm as it is today and as a backup has it: which of them gives less, in days and does too."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from herd.models import Membership
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER

WEIGHT = {OWNER: 3, FAMILY: 2, HELPER: 1, ADVISER: 0}
PARTS = ("role", "starts_on", "ends_on", "does", "pack")


@dataclass(frozen=True, slots=True)
class Held:
    """What a membership gives. A day that is not set is no limit."""

    role: str
    starts_on: date | None = None
    ends_on: date | None = None
    does: tuple[str, ...] = ()
    pack: str = ""

    def parts(self) -> dict[str, Any]:
        return {**{name: getattr(self, name) for name in PARTS}, "does": list(self.does)}

    def more(self) -> str:
        """What stands behind the role."""
        n = len(self.does)
        said = [f"for {n} {'doe' if n == 1 else 'does'}"] if n else []
        said += [f"from {self.starts_on}"] if self.starts_on else []
        said += [f"until {self.ends_on}"] if self.ends_on else []
        return "".join(f" {part}" for part in said)


def held_of(row: Membership) -> Held:
    return Held(row.role, row.starts_on, row.ends_on, tuple(row.does), row.pack)


def held_in(row: dict[str, Any]) -> Held:
    """A line of a backup; one from before there were days has none."""
    starts, ends = (date.fromisoformat(row[name]) if row.get(name) else None for name in ("starts_on", "ends_on"))
    return Held(row["role"], starts, ends, tuple(row.get("does") or ()), row.get("pack") or "")


def narrower(today: Held, then: Held) -> Held:
    """Today's place as it is, unless the backup's gives no more in anything; a higher role never comes by itself.

    Of two that each give something the other does not, today's is what an owner said last.
    """
    if WEIGHT[then.role] < WEIGHT[today.role]:
        return replace(then, starts_on=_later(today, then), ends_on=_earlier(today, then))
    return then if _within(then, today) else today


def _within(a: Held, b: Held) -> bool:
    same_days = _later(a, b) == a.starts_on and _earlier(a, b) == a.ends_on
    return WEIGHT[a.role] <= WEIGHT[b.role] and same_days and set(a.does) <= set(b.does) and a.pack == b.pack


def _later(a: Held, b: Held) -> date | None:
    return max((day for day in (a.starts_on, b.starts_on) if day), default=None)


def _earlier(a: Held, b: Held) -> date | None:
    return min((day for day in (a.ends_on, b.ends_on) if day), default=None)
