"""What an adviser is sent: her does and what they are fed from. Of all else only that something stands there."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from typing import Any

from herd.models import Event, Membership
from herd.models.event import OK
from herd.models.farm import OWNER
from herd.state.doe_state import pen_on
from herd.state.fold import fold
from herd.state.order import content, mapping, text
from herd.state.order import rows as rows_of

from .wire import as_object, canonical, replay

HIDDEN = "hidden"
# Of no doe in particular, and needed to reckon what she eats.
OF_THE_BARN = frozenset(("feed", "lot", "rules", "scoop", "calibration", "new_bag", "water", "weather"))
SAY_WHERE = ("doe", "moved", "left_herd")
OF_A_PEN = frozenset(("pen", "ration", "fed", "intake"))
Row = tuple[Any, ...]


@dataclass(frozen=True, slots=True)
class Facts:
    """What a row of the log is about: for a correction, the kind its content is written in."""

    kind: str
    form: str
    subject: str
    on: str


class AdviserView:
    """One farm through the eyes of one adviser. Where each doe stood on a day comes from the log."""

    def __init__(self, farm_id: str, does: Iterable[str]) -> None:
        self.farm_id, self.does = farm_id, frozenset(does)

    @cached_property
    def herd(self) -> dict[str, dict[str, Any]]:
        """Asked only where there is something to cut: most questions of a phone bring nothing new."""
        stood = Event.objects.filter(farm_id=self.farm_id, form__in=SAY_WHERE, fold_status=OK)
        does: dict[str, dict[str, Any]] = fold([replay(*row) for row in stood.values_list("raw", "eff")])["does"]
        return does

    @cached_property
    def pens(self) -> set[str]:
        return {pen for doe in self.does & self.herd.keys() for _, pen, *_ in self.herd[doe]["moves"] if pen}

    def cut(self, rows: list[Row]) -> list[Row]:
        """Rows in the order of ROW: hidden ones keep their place in the count and nothing else."""
        if not rows:
            return []
        about = self._about([row[0] for row in rows])
        return [self._cut(row, about[row[0]]) for row in rows]

    def sees(self, sha256: str) -> bool:
        """A picture or a recording of hers: an entry about one of her does names it."""
        about = Event.objects.filter(farm_id=self.farm_id, kind__in=("picture", "voice"), subject__in=self.does)
        raws = about.filter(fold_status=OK).values_list("raw", flat=True)
        return any(text(content(as_object(raw.encode())), "sha256") == sha256 for raw in raws)

    def shown(self, rows: list[Row]) -> list[Row]:
        return [row for row in self.cut(rows) if row[1] != HIDDEN]

    def _about(self, seqs: list[int]) -> dict[int, Facts]:
        found = Event.objects.filter(farm_id=self.farm_id, seq__in=seqs)
        named = found.values_list("seq", "kind", "form", "subject", "on")
        return {seq: Facts(kind, form, subject, on) for seq, kind, form, subject, on in named}

    def _cut(self, row: Row, about: Facts) -> Row:
        seq, status, eff, raw, event_id, *rest = row
        if about.subject in self.does:
            return (seq, status, eff, self._part(raw, about, 1, 1), event_id, *rest)
        if about.form in OF_THE_BARN:
            return row
        if about.form in OF_A_PEN and about.subject in self.pens:
            hers, heads = self._heads(about.subject, about.on)
            if hers or about.form == "pen":
                return (seq, status, eff, self._part(raw, about, hers, heads), event_id, *rest)
        return (seq, HIDDEN, "", canonical({"id": event_id}), event_id, *rest)

    def _heads(self, pen: str, on: str) -> tuple[int, int]:
        """Of those who stood in a pen on a day: hers, and all."""
        there = [doe for doe, state in self.herd.items() if pen_on(state, on) == pen and _was_here(state, on)]
        return len([doe for doe in there if doe in self.does]), len(there)

    def _part(self, raw: str, about: Facts, hers: int, heads: int) -> str:
        """Amounts for a whole pen become the share of her does, by heads; lines for others go, and so does what nobody
        can read."""
        if about.form not in ("fed", "ration"):
            return raw
        event = as_object(raw.encode())
        data = content(event)
        said = mapping(data, "data") if about.kind == "correct" else data
        part = {"fed": self._fed, "ration": self._ration}[about.form](said, hers, heads)
        return canonical({**event, "data": {**data, "data": part} if about.kind == "correct" else part})

    def _fed(self, said: dict[str, Any], hers: int, heads: int) -> dict[str, Any]:
        lines = [line for line in rows_of(said, "lines") if text(line, "to") in ("", *self.does)]
        return {**said, "lines": [line if text(line, "to") else _share(line, hers, heads) for line in lines]}

    def _ration(self, said: dict[str, Any], hers: int, heads: int) -> dict[str, Any]:
        return {**said, "steps": [_share(step, hers, heads) for step in rows_of(said, "steps")]}


def _was_here(doe: dict[str, Any], on: str) -> bool:
    return not doe["left_on"] or on < doe["left_on"]


def _share(row: dict[str, Any], hers: int, heads: int) -> dict[str, Any]:
    grams = row.get("g")
    return {**row, "g": grams * hers // heads} if isinstance(grams, int) and heads else row


def people_for_adviser(members: Iterable[Membership], own: str) -> list[Membership]:
    """Whom to ask, and herself."""
    return [m for m in members if m.gone_at is None and (m.role == OWNER or m.person_id == own)]
