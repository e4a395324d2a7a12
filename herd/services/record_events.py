"""The only writer of the log: a phone's batch in one transaction, and an answer for each event by itself."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import transaction

from herd.models import Device, Farm, Quarantine
from herd.models.event import OK, PARKED
from herd.models.farm import ADVISER
from herd.state.kinds import RECORDS, SHAPES_OUTLOOK, known
from herd.state.order import Event
from herd.state.payloads import Problem

from .append import Entry, append
from .authors import Authors
from .clock import Correction, FarmClock, day_of, now_ms
from .judge import Log, Place, Seen, names, place
from .roles import READ_ONLY, not_hers
from .waiting import settle
from .wire import Read, canonical, decode, digest, read

ID_REUSED = Problem("id_reuse", "id", "Another entry has this id already: record it again.")
WHY_KEPT = 400


@dataclass(frozen=True, slots=True)
class Batch:
    farm_id: str
    person_id: str
    role: str
    device: str
    phone_ms: int
    events: list[bytes]
    app: str = ""
    seq: int = 0
    outlook_rev: int = 0
    pending: int = 0
    # What entries offered again were given when they were first taken, by id.
    before: dict[str, Any] = field(default_factory=dict)
    now: int = field(default_factory=now_ms)


Answer = dict[str, Any]


def record_events(batch: Batch) -> list[Answer]:
    """Write what can be written. When this returns, every event answered ok, dup or parked is durable."""
    reads = [read(raw) for raw in batch.events]
    with transaction.atomic():
        farm = Farm.objects.select_for_update().get(pk=batch.farm_id)
        work = Work(batch, farm, reads)
        answers = [work.answer(one) for one in reads]
        work.store()
        let_in = work.settle()
    for answer in answers:
        if answer["st"] == PARKED and answer["id"] in let_in:
            answer["st"] = OK
    return answers


class Work:
    """One batch being written while the farm row is locked."""

    def __init__(self, batch: Batch, farm: Farm, reads: list[Read]) -> None:
        self.batch, self.farm = batch, farm
        self.clock = FarmClock.at(farm.clock)
        self.times = Correction(batch.now, batch.now - batch.phone_ms, farm.zone, self.clock, batch.before)
        good = [one.event for one in reads if not one.problem]
        targets, subjects = names(good)
        self.log = Log(farm.id)
        self.log.load_events({event["id"] for event in good} | targets)
        self.log.load_subjects(subjects)
        self.authors = Authors(farm.id, batch.person_id, batch.role, batch.device, {event["author"] for event in good})
        self.rows: list[Entry] = []
        self.refused: list[Quarantine] = []

    def answer(self, one: Read) -> Answer:
        sha = digest(one.raw)
        problem = one.problem or (READ_ONLY if self.batch.role == ADVISER else self.authors.problem(one.event))
        if problem:
            return self.refuse(one, sha, problem)
        seen = self.log.events.get(one.id)
        if seen:
            return self.repeated(one, sha, seen)
        where = place(one.event, self.log)
        problem = where.problem or self.not_hers(one.event)
        return self.refuse(one, sha, problem) if problem else self.accept(one, sha, where)

    def not_hers(self, event: Event) -> Problem | None:
        """What was taken once, before the farm went back to a backup, is taken again: roles may have changed since."""
        if event["id"] in self.batch.before or not known(event["kind"], event["v"]):
            return None
        return not_hers(self.authors.roles[event["author"]], event, self.log)

    def refuse(self, one: Read, sha: str, problem: Problem) -> Answer:
        self.refused.append(
            Quarantine(
                farm=self.farm,
                sha256=sha,
                event_id=one.id,
                raw=one.raw.decode(errors="backslashreplace").replace("\0", "\\0")[:100_000],
                code=problem.code,
                why=problem.why[:WHY_KEPT],
                sender=self.batch.person_id,
                device=self.batch.device,
                received_ms=self.batch.now,
            )
        )
        return _answer(one.id, "rejected", code=problem.code, why=problem.why, field=problem.field)

    def repeated(self, one: Read, sha: str, seen: Seen) -> Answer:
        if seen.sha256 != sha:
            return self.refuse(one, sha, ID_REUSED)
        return _answer(one.id, "dup", seq=seen.seq, eff=decode(seen.eff) if seen.eff else None)

    def accept(self, one: Read, sha: str, where: Place) -> Answer:
        event: dict[str, Any] = one.event
        eff = self.times.effective(event)
        counts = {**event, **eff}
        self.farm.seq += 1
        row = Entry(
            farm_id=self.farm.id,
            seq=self.farm.seq,
            id=event["id"],
            kind=event["kind"],
            v=event["v"],
            subject=event["subject"],
            form=where.form,
            on=counts["on"],
            happened_ms=counts["happened"],
            hlc=counts["hlc"],
            eff=canonical(eff) if eff else "",
            raw=one.raw.decode(),
            sha256=sha,
            author=event["author"],
            device=event["device"],
            received_ms=self.batch.now,
            fold_status=where.status,
            waits_for=where.waits_for,
        )
        self.rows.append(row)
        self.log.events[row.id] = Seen(sha, row.seq, row.eff, row.kind, row.form, row.subject, row.author)
        if row.kind in RECORDS:
            self.log.subjects.add((row.subject, row.kind))
        return _answer(row.id, where.status, seq=row.seq, eff=eff or None)

    def store(self) -> None:
        append(self.rows)
        Quarantine.objects.bulk_create(self.refused, ignore_conflicts=True)
        bound = Device(
            farm=self.farm,
            device=self.batch.device,
            person_id=self.batch.person_id,
            pushed_at=datetime.fromtimestamp(self.batch.now / 1000, UTC),
            seq=self.batch.seq,
            outlook_rev=self.batch.outlook_rev,
            app=self.batch.app,
            pending=self.batch.pending,
        )
        fields = ["pushed_at", "seq", "outlook_rev", "app", "pending"]
        Device.objects.bulk_create(
            [bound], update_conflicts=True, unique_fields=["farm", "device", "person"], update_fields=fields
        )

    def settle(self) -> set[str]:
        folded = [row for row in self.rows if row.fold_status == OK and row.form in SHAPES_OUTLOOK]
        done, let_in = settle(self.farm.id, {row.subject for row in folded}, {row.id for row in self.rows})
        if done.outlooks_due:
            only_milk = not let_in and all(row.form == "milk" for row in folded)
            self.farm.outlooks_due_on = self.tomorrow() if only_milk else ""
        self._card_due()
        self.farm.clock = self.clock.stamp()
        self.farm.save(update_fields=["seq", "clock", "outlooks_due_on"])
        return let_in

    def _card_due(self) -> None:
        """The herd's card is made again at once for a water test, tomorrow for what was fed today."""
        forms = {row.form for row in self.rows if row.fold_status == OK}
        if "water" in forms:
            self.farm.outlooks_due_on = ""
        elif "fed" in forms:
            self.farm.outlooks_due_on = self.tomorrow()

    def tomorrow(self) -> str:
        """Milk moves her needs a little, and every day: one new outlook a day is enough."""
        day = day_of(self.batch.now, self.farm.zone) + timedelta(days=1)
        return min(self.farm.outlooks_due_on, day.isoformat())


def _answer(event_id: str, status: str, **more: Any) -> Answer:
    return {"id": event_id, "st": status, "code": "", "why": "", "field": "", "seq": None, "eff": None, **more}
