"""Every role x kind x whose of the table of roles, as entries to push and what the table says of each.

Read from the table's own text, not from the code that goes by it.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from herd.state.kinds import CHAINS, KINDS
from tests.phones import Phone, new_id
from tests.support.paths import ROOT

TABLES = ROOT / "herd/state/tables"
TABLE = tomllib.loads((TABLES / "roles.toml").read_text())
FIELDS = tomllib.loads((TABLES / "fields.toml").read_text())
FORMS = tomllib.loads((TABLES / "kinds.toml").read_text())
CODES = tomllib.loads((TABLES / "codes.toml").read_text())
RECORDED = [kind for kind in KINDS if kind not in CHAINS]
PLAIN = {"id": "0190f3a2-1111-7000-8000-00000000000d", "code": "oats", "day": "2020-11-02", "flag": True, "text": "x"}
Fact = dict[str, Any]


def golden(kind: str) -> Fact:
    path = ROOT / f"tests/vectors/events/{kind}.v{KINDS[kind].newest}.json"
    return dict(json.loads(path.read_text())["event"]["data"])


@dataclass(slots=True)
class Cell:
    """`before`: what others recorded first, `own`: what whoever is asked about did; `entry` is what is judged."""

    kind: str
    what: str
    allowed: bool
    entry: Fact
    before: list[Fact] = field(default_factory=list)
    own: list[Fact] = field(default_factory=list)


class Cells:
    """Of one role: `own` is the phone of whoever has it, `other` of somebody who plans."""

    def __init__(self, role: str, own: Phone, other: Phone) -> None:
        self.role, self.own, self.other = role, own, other
        self.day = str(own.event("note", new_id(), {"text": "x"})["on"])

    def way(self, kind: str) -> dict[str, Any]:
        return dict(TABLE["way"][TABLE.get(self.role, {}).get(kind, TABLE["usual"][self.role])])

    def all(self) -> Iterator[Cell]:
        for kind in RECORDED:
            way = self.way(kind)
            yield from self.recorded(kind, way)
            yield from self.linked(kind, way)
            yield from self.placed(kind, way)
            yield from self.sooner(kind, way)

    def subject(self, kind: str) -> tuple[str, list[Fact]]:
        """Somebody new for it to be about, and what makes her known."""
        subject = self.own.farm.id if kind == "rules" else new_id()
        about = KINDS[kind].about
        made = [self.other.record(about[0], subject, {"name": "Ivy"})] if about else []
        return subject, made

    def data(self, kind: str) -> Fact:
        data = golden(kind)
        if kind == "ration":
            return {**data, "to": "doe", "steps": [{"on": self.day, "g": 400}]}
        if kind == "pack":
            # long over: one that stands would hold the rations of the others
            return {**data, "f": {**data["f"], "from_on": "2020-11-01", "to_on": "2020-11-01"}}
        if kind == "freeze":
            return {**data, "until_on": self.later(3), "grain_out": False}
        return {**data, "milk_until": self.later(5), "meat_until": self.later(9)} if kind == "treatment" else data

    def later(self, days: int) -> str:
        return (date.fromisoformat(self.day) + timedelta(days=days)).isoformat()

    def event(self, phone: Phone, kind: str, subject: str, data: Fact) -> Fact:
        return phone.event(kind, subject, data, v=KINDS[kind].newest)

    def recorded(self, kind: str, way: Fact) -> Iterator[Cell]:
        how = way["record"]
        subject, made = self.subject(kind)
        data = self.data(kind)
        if kind == "ration":
            made.append(self.event(self.other, kind, subject, {**data, "steps": [{"on": self.day, "g": 500}]}))
        yield Cell(kind, "records", how != "never", self.event(self.own, kind, subject, data), made)
        if kind == "ration":
            more = {**data, "steps": [{"on": self.day, "g": 900}]}
            entry = self.event(self.own, kind, subject, more)
            yield Cell(kind, "raises", how == "any", entry, made)
        if kind == "freeze":
            entry = self.event(self.own, kind, subject, {**data, "until_on": ""})
            yield Cell(kind, "ends", how == "any", entry, made)

    def linked(self, kind: str, way: Fact) -> Iterator[Cell]:
        for link in CHAINS:
            for whose, phone in (("own", self.own), ("others", self.other)):
                subject, made = self.subject(kind)
                target = self.event(phone, kind, subject, self.data(kind))
                said = {"of": target["id"], **({"data": target["data"]} if link == "correct" else {})}
                entry = self.own.event(link, subject, said)
                before, own = ([*made, target], []) if whose == "others" else (made, [target])
                yield Cell(kind, f"{link} {whose}", link in way.get(whose, ()), entry, before, own)

    def placed(self, kind: str, way: Fact) -> Iterator[Cell]:
        """Every field of a record, on one that stands and on a new one; a correction of her own that changes it."""
        if KINDS[kind].family != "record" or kind in ("rules", "contact") or way["record"] == "never":
            return
        named = [self.fields(one) for one in way.get("placed", ())]
        kept = {name for fields in named for name in fields}
        for name, described in self.form(kind).items():
            value = valid(described)
            subject, made = new_id(), self.data(kind)
            stands = self.other.event(kind, subject, made)
            entry = self.own.record(kind, subject, {name: value})
            yield Cell(kind, f"{name} standing", name not in kept, entry, [stands])
            yield Cell(kind, f"{name} new", True, self.own.record(kind, new_id(), {name: value}))
            own = self.own.record(kind, subject := new_id(), {name: value})
            other = valid(described, other=True)
            if other == value:
                continue
            said = {"of": own["id"], "data": {"f": {name: other}, "base": {name: ""}}}
            yield Cell(kind, f"{name} corrected", name not in kept, self.own.event("correct", subject, said), [], [own])

    def sooner(self, kind: str, way: Fact) -> Iterator[Cell]:
        for name in ("milk_until", "meat_until") if kind == "treatment" and "correct" in way.get("own", ()) else ():
            kept = name in way.get("never_sooner", ())
            for days, allowed in ((30, True), (1, not kept), (None, not kept)):
                subject, made = self.subject(kind)
                own = self.event(self.own, kind, subject, self.data(kind))
                until = "" if days is None else self.later(days)
                said = {"of": own["id"], "data": {**own["data"], name: until}}
                yield Cell(kind, f"{name} {days}", allowed, self.own.event("correct", subject, said), made, [own])

    def form(self, kind: str) -> Fact:
        version = FORMS[kind][str(KINDS[kind].newest)]
        sets = [FIELDS["sets"][name] for name in version.get("with", ())]
        return {name: row for part in (version, *sets) for name, row in part.items() if name != "with"}

    def fields(self, named: str) -> list[str]:
        return list(FIELDS["sets"][named[1:]]) if named.startswith("@") else [named]


def valid(described: Fact, other: bool = False) -> Any:
    """A value the field may hold, or another one."""
    is_ = described["is"]
    if is_ == "whole":
        return described["high" if other else "low"]
    if is_ == "choice":
        of = described["of"]
        words = CODES[of] if isinstance(of, str) else of
        return words[-1 if other else 0]
    if is_ == "feeds":
        return ["oats"] if other else []
    if is_ == "ids":
        return [PLAIN["id"]] if other else []
    if is_ == "codes":
        of = described["of"]
        words = CODES[of] if isinstance(of, str) else of
        return [words[-1]] if other else []
    if other:
        return {"flag": False, "day": "2020-11-03", "code": "barley_grain", "text": "y", "id": PLAIN["id"]}[is_]
    return PLAIN[is_]
