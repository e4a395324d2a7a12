"""What waits for an owner to let in or leave: of people who were on the farm no more when it arrived, and what somebody
brought in a file of somebody who has not signed in there."""

from __future__ import annotations

from typing import Any

from herd.models import Farm, Membership, Person, Quarantine
from herd.state.order import content, text

from .audit import audit
from .clock import now_ms
from .for_the_owner import waiting
from .record_events import Answer, Batch, record_events
from .wire import as_object

PAGE = 100
LET_IN, DISMISSED = "let_in", "dismissed"


def shows(farm: Farm, sender: Person, sha256: str) -> bool:
    """Whether it is the picture or the recording of an entry she handed in."""
    raws = waiting(farm.pk).filter(sender=sender.pk).values_list("raw", flat=True)
    return any(sha256 == mark for mark in map(_mark, raws))


def marks(farm: Farm) -> set[str]:
    """What the entries show that an owner has not decided about."""
    return {mark for mark in map(_mark, waiting(farm.pk).values_list("raw", flat=True)) if mark}


def _mark(raw: str) -> str:
    return text(content(as_object(raw.encode())), "sha256")


def listed(farm: Farm, after: int = 0) -> list[dict[str, Any]]:
    rows = list(waiting(farm.pk).filter(id__gt=after).order_by("id")[:PAGE])
    events = [as_object(row.raw.encode()) for row in rows]
    people = {str(event.get("author", "")) for event in events} | {row.sender for row in rows}
    names = dict(Person.objects.filter(pk__in=people).values_list("pk", "name"))
    return [
        {
            "id": row.pk,
            "event": event,
            "author": names.get(str(event.get("author", "")), ""),
            "sent_by": names.get(row.sender, ""),
            "received_ms": row.received_ms,
        }
        for row, event in zip(rows, events, strict=True)
    ]


def let_in(farm: Farm, row_id: int, by: Person) -> Answer | None:
    """Recorded under her own name, judged as what she was; None where there is no such row. Of what nobody can read it
    is its sender's, and the answer says why it cannot come in."""
    row = waiting(farm.pk).filter(pk=row_id).first()
    event = as_object(row.raw.encode()) if row else {}
    author = str(event.get("author") or (row.sender if row else ""))
    was = Membership.everyone.filter(farm=farm, person_id=author).first()
    if row is None or was is None:
        return None
    now = now_ms()
    answer = record_events(
        Batch(
            farm_id=farm.pk,
            person_id=author,
            role=was.role,
            device=row.device,
            phone_ms=now - row.offset_ms,
            events=[row.raw.encode()],
            let_in=True,
            now=now,
        )
    )[0]
    if answer["st"] != "rejected":
        Quarantine.objects.filter(pk=row.pk).update(decided=LET_IN, decided_by=by.pk)
        audit(farm, by, LET_IN, f"{author} {event.get('kind', '')}")
    return answer


def dismiss(farm: Farm, row_id: int, by: Person) -> bool:
    """Out of the list; the row stays."""
    done = waiting(farm.pk).filter(pk=row_id).update(decided=DISMISSED, decided_by=by.pk)
    if done:
        audit(farm, by, DISMISSED, f"entry {row_id}")
    return bool(done)
