"""Push, pull and the start of a new phone: plain views on msgspec, so that a phone's bytes pass through untouched."""

from __future__ import annotations

import logging
from typing import Annotated, Any
from uuid import uuid4

import msgspec
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_POST

from herd.log import about
from herd.models.farm import Farm
from herd.services.bootstrap import bootstrap
from herd.services.changes import PAGE, Cursor, changes, people_of
from herd.services.epoch import start_new_epoch
from herd.services.record_events import Batch, record_events
from herd.state.checks import PATTERNS

from .access import Access, access
from .errors import ApiError
from .load import door
from .middleware import TOO_BIG
from .replies import packed, reply
from .session import has_seat
from .throttle import count

log = logging.getLogger(__name__)
MOST_EVENTS = 500
PUSHES_A_MINUTE = 120


Count = Annotated[int, msgspec.Meta(ge=0, le=2**53)]


class At(msgspec.Struct):
    seq: Count = 0
    outlook_rev: Count = 0


class Push(msgspec.Struct):
    device: str
    epoch: Count
    now: Count
    events: list[msgspec.Raw]
    cursor: At = msgspec.field(default_factory=At)
    app: str = ""
    schema: int = 1
    pending: Count = 0
    before: dict[str, Any] = msgspec.field(default_factory=dict)


_push = msgspec.json.Decoder(Push).decode


@require_POST
def push(request: HttpRequest, farm_id: str) -> HttpResponse:
    with door.taken_in():
        return taken_in(request, farm_id)


def taken_in(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id)
    body = readable(request.body)
    with about(farm=farm_id, device=body.device, batch=uuid4().hex[:12]):
        count(f"push:{farm_id}:{body.device}", PUSHES_A_MINUTE, 60)
        same_epoch(held.farm, body.epoch, body.cursor.seq)
        answers = record_events(batch_of(request, held, body)) if body.events else []
        log.info("push", extra=tally(answers))
        page = pulled(held, body.cursor, PAGE, moved=bool(answers))
        return reply({"answers": answers, "changes": page, **{key: page[key] for key in ("epoch", "min_app", "now")}})


def readable(body: bytes) -> Push:
    try:
        found = _push(body)
    except (msgspec.DecodeError, RecursionError) as error:
        raise ApiError(400, "unreadable", "The body is not a batch of entries.", str(error)[:200]) from error
    if not PATTERNS["id"].fullmatch(found.device):
        raise ApiError(400, "unreadable", "The device must be an id.", "device")
    if len(found.events) > MOST_EVENTS:
        raise ApiError(*TOO_BIG)
    return found


def same_epoch(farm: Farm, epoch: int, seq: int) -> None:
    """A phone ahead of the log has seen entries that are gone: somebody put an old database back by hand."""
    if epoch == farm.epoch and seq > farm.seq:
        farm.epoch = start_new_epoch(farm.id, f"a phone had seen {seq}, the log ends at {farm.seq}")
        log.error("The log is shorter than a phone remembers: new epoch")
    if epoch != farm.epoch:
        message = "The server was put back to an earlier day: the phone offers its entries again."
        raise ApiError(409, "epoch", message, "epoch", epoch=farm.epoch)


def batch_of(request: HttpRequest, held: Access, body: Push) -> Batch:
    return Batch(
        farm_id=held.farm.id,
        person_id=held.person.pk,
        role=held.role,
        device=body.device,
        phone_ms=body.now,
        events=[bytes(raw) for raw in body.events],
        app=body.app[:20],
        seq=body.cursor.seq,
        outlook_rev=body.cursor.outlook_rev,
        pending=min(body.pending, 1_000_000),
        seats=frozenset(member.person_id for member in held.members if has_seat(request, member.person)),
        before=body.before,
    )


def tally(answers: list[dict[str, Any]]) -> dict[str, Any]:
    states = [answer["st"] for answer in answers]
    return {"count": {state: states.count(state) for state in sorted(set(states))}}


def pulled(held: Access, cursor: At, limit: int, *, moved: bool = False) -> dict[str, Any]:
    farm = Farm.objects.get(pk=held.farm.id) if moved else held.farm
    page = changes(farm, Cursor(cursor.seq, cursor.outlook_rev), limit, held.person.pk)
    return {**page, "people": people_of(held.members)}


@require_GET
def pull(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id)
    cursor = At(number(request, "seq", 0), number(request, "outlook_rev", 0))
    with about(farm=farm_id):
        if cursor.seq > held.farm.seq:
            same_epoch(held.farm, number(request, "epoch", held.farm.epoch), cursor.seq)
        return reply(pulled(held, cursor, min(max(number(request, "limit", PAGE), 1), PAGE)))


@require_GET
def start(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id)
    with about(farm=farm_id):
        return packed(request, {**bootstrap(farm_id, held.person.pk), "people": people_of(held.members)})


def number(request: HttpRequest, name: str, default: int) -> int:
    value = request.GET.get(name, "")
    if not value:
        return default
    if not (value.isascii() and value.isdigit() and len(value) < 16):
        raise ApiError(400, "bad_field", f"{name} must be a whole number.", name)
    return int(value)
