"""The only writer of the log: a phone's batch in one transaction, and an answer for each event by itself."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from django.db import transaction

from herd.models import Device, Farm, Quarantine, Ruling
from herd.models.event import OK, PARKED, REFUSED
from herd.models.farm import ADVISER
from herd.state.kinds import CHAINS, RECORDS, SHAPES_OUTLOOK, known
from herd.state.order import Event, content, mapping
from herd.state.payloads import Problem

from .append import Entry, append
from .authors import CARRIED, REMOVED, Authors
from .clock import UNDATED_ON, Correction, FarmClock, day_of, now_ms
from .due import FIELDS, set_due
from .for_the_owner import FOR_THE_OWNER
from .further import merely_seen
from .judge import Log, Place, Seen, names, place, target_of
from .keep_refused import as_text, keep_refused, plain
from .parked_quota import UPDATE, Quota
from .phones import bind
from .receipts import receipt, taken
from .restamped import Restamped
from .roles import not_allowed
from .standing import TELLING, Since
from .waiting import Settled, settle
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
    # Who else has a place on the browser that sends, with neither a PIN nor a lock before it.
    seats: frozenset[str] = frozenset()
    # What entries offered again after a restore show for having been taken before, by id: receipt and times.
    before: dict[str, Any] = field(default_factory=dict)
    # The sender is on the farm no more: what she recorded is kept for its owner.
    gone: bool = False
    # Brought from another phone in a file: the sender's clock says nothing of theirs, and she vouches for nobody.
    carried: bool = False
    # An owner lets it in: no phone of hers is there.
    let_in: bool = False
    now: int = field(default_factory=now_ms)


Answer = dict[str, Any]


def record_events(batch: Batch) -> list[Answer]:
    """Write what can be written. When this returns, every event answered ok, dup or parked is durable. What an owner is
    to decide about and there is no room for is not answered: it stays on the phone."""
    reads = [read(raw) for raw in batch.events]
    with transaction.atomic():
        farm = Farm.objects.select_for_update().get(pk=batch.farm_id)
        work = Work(batch, farm, reads)
        answers = [work.answer(one) for one in reads]
        work.store()
        settled = work.settle()
    pairs = zip(reads, answers, strict=True)
    return [_as_settled(answer, settled) for one, answer in pairs if not work.left or digest(one.raw) not in work.left]


class Work:
    """One batch being written while the farm row is locked."""

    def __init__(self, batch: Batch, farm: Farm, reads: list[Read]) -> None:
        self.batch, self.farm = batch, farm
        self.clock = FarmClock.at(farm.clock)
        self.offset = 0 if batch.carried else batch.now - batch.phone_ms
        self.times = Correction(batch.now, self.offset, farm.zone, self.clock, Restamped(farm.id, farm.seq))
        self.today = day_of(batch.now, farm.zone)
        good = [one.event for one in reads if not one.problem]
        targets, subjects = names(good)
        self.log = Log(farm.id)
        self.log.load_events({event["id"] for event in good} | targets)
        self.log.load_subjects(subjects)
        authors = {event["author"] for event in good}
        more = {"gone": batch.gone, "carried": batch.carried}
        self.authors = Authors(farm.id, batch.person_id, batch.role, batch.seats, authors, **more)
        self.unread = Quota(farm.id, batch.now)
        self.rows: list[Entry] = []
        self.refused: list[Quarantine] = []
        # Marks of what an owner was to decide about, and is not kept.
        self.left: set[str] = set()

    def answer(self, one: Read) -> Answer:
        sha = digest(one.raw)
        problem = one.problem or self.authors.problem(one.event)
        if problem is CARRIED and one.id in self.log.events:
            # Its author has sent it by now: there is nothing left to let in.
            return self.repeated(one, sha, self.log.events[one.id])
        left = problem is REMOVED
        before = None
        if not problem or left:
            before = taken(self.farm.id, one.event, one.raw, self.batch.before.get(one.id))
        if left and (before or one.id in self.log.events):
            problem = None
        # What was taken once is taken again, and judged as it was then: roles may have changed since.
        problem = problem or (None if before else self.authors.may_write(one.event))
        if problem:
            return self.refuse(one, sha, problem)
        seen = self.log.events.get(one.id)
        if seen:
            return self.repeated(one, sha, seen)
        where = place(one.event, self.log)
        if where.problem:
            return self.refuse(one, sha, where.problem)
        role = before.role if before else self.authors.roles[one.event["author"]]
        eff = self.times.effective(one.event, before.eff if before else None)
        problem = self.not_allowed(role, {**one.event, **eff}, where)
        if not (before or known(one.event["kind"], one.event["v"]) or self.unread.takes(one.event["author"], one.raw)):
            problem = UPDATE
        return self.refuse(one, sha, problem) if problem else self.accept(one, sha, where, role, eff)

    def not_allowed(self, role: str, event: Event, where: Place) -> Problem | None:
        """A link that waits for what it names is judged when that is there, an unknown kind when it is known."""
        if not known(event["kind"], event["v"]) or (event["kind"] in CHAINS and where.status == PARKED):
            return None
        return not_allowed(role, event, where.chain, self.today)

    def refuse(self, one: Read, sha: str, problem: Problem) -> Answer:
        if self.authors.keeps(one.event):
            self.keep(one, sha, problem)
        return _answer(one.id, "rejected", code=problem.code, why=problem.why, field=problem.field)

    def keep(self, one: Read, sha: str, problem: Problem) -> None:
        """Who is gone mends nothing any more: whatever is wrong with what she hands in, an owner sees it."""
        handed_in = self.batch.gone and problem.code not in FOR_THE_OWNER
        self.refused.append(
            Quarantine(
                farm=self.farm,
                sha256=sha,
                event_id=plain(one.id)[:40],
                raw=as_text(one.raw),
                code=REMOVED.code if handed_in else problem.code,
                why=plain(problem.why)[:WHY_KEPT],
                sender=self.batch.person_id,
                device=self.batch.device,
                received_ms=self.batch.now,
                offset_ms=self.offset,
            )
        )

    def repeated(self, one: Read, sha: str, seen: Seen) -> Answer:
        if seen.sha256 != sha:
            return self.refuse(one, sha, ID_REUSED)
        said = {"seq": seen.seq, "eff": decode(seen.eff) if seen.eff else None, "receipt": self.receipt(one.id, seen)}
        if seen.fold_status == REFUSED:
            why = Ruling.objects.get(farm=self.farm, seq=seen.seq)
            return _answer(one.id, "rejected", code=why.code, why=why.why, **said)
        return _answer(one.id, "dup", **said)

    def receipt(self, event_id: str, seen: Seen) -> str:
        return receipt(self.farm.id, event_id, seen.sha256, seen.author, seen.role, seen.eff)

    def accept(self, one: Read, sha: str, where: Place, role: str, eff: dict[str, Any]) -> Answer:
        event: dict[str, Any] = one.event
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
            on=UNDATED_ON if "odd" in eff else counts["on"],
            happened_ms=counts["happened"],
            hlc=counts["hlc"],
            eff=canonical(eff) if eff else "",
            raw=one.raw.decode(),
            sha256=sha,
            author=event["author"],
            device=event["device"],
            received_ms=self.batch.now,
            role=role,
            fold_status=where.status,
            waits_for=where.waits_for,
        )
        self.rows.append(row)
        of, f = target_of(row.kind, row.v, row.raw), mapping(content(event), "f") if row.kind in RECORDS else {}
        seen = Seen(row.kind, sha, row.seq, row.eff, row.form, row.subject, row.author, role, row.fold_status, of, f)
        self.log.events[row.id] = seen
        if row.kind in RECORDS:
            self.log.subjects.add((row.subject, row.kind))
        return _answer(row.id, where.status, seq=row.seq, eff=eff or None, receipt=self.receipt(row.id, seen))

    def store(self) -> None:
        append(self.rows)
        kept = keep_refused(self.refused)
        self.left = {row.sha256 for row in self.refused if row.code in FOR_THE_OWNER} - kept
        if not (self.batch.carried or self.batch.let_in or self.batch.role == ADVISER):
            self.bind()

    def bind(self) -> None:
        bind(
            Device(
                farm=self.farm,
                device=self.batch.device,
                person_id=self.batch.person_id,
                pushed_at=datetime.fromtimestamp(self.batch.now / 1000, UTC),
                seq=self.batch.seq,
                outlook_rev=self.batch.outlook_rev,
                app=self.batch.app,
                pending=self.batch.pending,
            )
        )

    def settle(self) -> Settled:
        placed = [row for row in self.rows if row.fold_status == OK]
        folded = [row for row in placed if row.form in SHAPES_OUTLOOK]
        telling = [row for row in placed if row.form in TELLING]
        whole = {row.subject for row in folded if not merely_seen(row.kind)}
        seen: dict[str, list[Entry]] = {}
        for row in folded:
            if row.subject not in whole:
                seen.setdefault(row.subject, []).append(row)
        arrived = {row.id for row in self.rows}
        settled = settle(self.farm, whole, arrived, {row.subject for row in telling}, seen, Since.of(telling))
        self._outlooks_due(settled, folded)
        self._card_due()
        self.farm.clock = self.clock.stamp()
        if self.rows:
            self.farm.tell_at_ms = now_ms()
        self.farm.save(update_fields=["seq", "outlook_rev", "clock", "tell_at_ms", *FIELDS])
        return settled

    def _outlooks_due(self, settled: Settled, folded: list[Entry]) -> None:
        """Milk moves her needs a little, and every day: one new outlook a day is enough."""
        if settled.done.outlooks_due:
            only_milk = not settled.let_in and all(row.form == "milk" for row in folded)
            set_due(self.farm, self.tomorrow() if only_milk else "")

    def _card_due(self) -> None:
        """The herd's card is made again at once for a water test, tomorrow for what was fed today."""
        forms = {row.form for row in self.rows if row.fold_status == OK}
        if "water" in forms:
            set_due(self.farm)
        elif "fed" in forms:
            set_due(self.farm, self.tomorrow())

    def tomorrow(self) -> str:
        day = day_of(self.batch.now, self.farm.zone) + timedelta(days=1)
        return min(self.farm.outlooks_due_on, day.isoformat())


def _as_settled(answer: Answer, settled: Settled) -> Answer:
    """What was let in counts by now; what was found not to count is refused, though the log has it."""
    if problem := settled.refused.get(answer["id"]):
        return {**answer, "st": "rejected", "code": problem.code, "why": problem.why, "field": problem.field}
    return {**answer, "st": OK} if answer["st"] == PARKED and answer["id"] in settled.let_in else answer


def _answer(event_id: str, status: str, **more: Any) -> Answer:
    return {"id": event_id, "st": status, "code": "", "why": "", "field": "", "seq": None, "eff": None, **more}
