"""Push, pull and the start of a new phone: plain views on msgspec, so that a phone's bytes pass through untouched."""

from __future__ import annotations

import logging
from typing import Annotated, Any
from uuid import uuid4

import msgspec
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_POST

from herd.log import about
from herd.models.farm import ADVISER, Farm
from herd.services.bootstrap import bootstrap
from herd.services.changes import PAGE, Cursor, changes
from herd.services.clock import now_ms
from herd.services.cursor_marks import is_ours
from herd.services.epoch import new_epochs_of_today, start_new_epoch
from herd.services.record_events import Batch, record_events
from herd.services.versions import MIN_APP
from herd.state.checks import PATTERNS

from .access import READ_ONLY, REMOVED, Access, access
from .account.seats import seats_among
from .errors import ApiError
from .load import door
from .middleware import TOO_BIG
from .replies import QUICK, packed, reply
from .throttle import count

log = logging.getLogger(__name__)
MOST_EVENTS = 500
# Of one person on one farm, however many phones: a barn that comes home sends hundreds of batches at once.
PUSHES_A_MINUTE = 2400
NO_ROOM = (503, "busy", "The owner has more of your entries to look through than fit: the phone keeps these for now.")
ROOM_AGAIN_S = 600
# A phone that has nothing to send only asks. Somebody who puts databases back and forth all day sends something, too.
EPOCHS_A_DAY_BY_GET = 3


Count = Annotated[int, msgspec.Meta(ge=0, le=2**53)]


class At(msgspec.Struct):
    """`signed`: what was handed out with it; phones of before send none."""

    seq: Count = 0
    outlook_rev: Count = 0
    signed: str = ""


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
    carried: bool = False


_push = msgspec.json.Decoder(Push).decode


@require_POST
def push(request: HttpRequest, farm_id: str) -> HttpResponse:
    with door.taken_in():
        return taken_in(request, farm_id)


def taken_in(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id, gone_too=True)
    if held.role == ADVISER:
        raise ApiError(*(REMOVED if held.gone else READ_ONLY))
    body = readable(request.body)
    with door.turn(), about(farm=farm_id, device=body.device, batch=uuid4().hex[:12]):
        count(f"push:{farm_id}:{held.person.pk}", PUSHES_A_MINUTE, 60)
        if held.gone:
            return reply(last_words(request, held, body))
        same_epoch(held.farm, body.epoch, body.cursor)
        answers = record_events(batch_of(request, held, body)) if body.events else []
        log.info("push", extra=tally(answers))
        page = pulled(held, body.cursor, PAGE, moved=bool(answers))
        said = {key: page[key] for key in ("epoch", "min_app", "now")}
        return packed(request, {"answers": answers, "changes": page, **said}, QUICK)


def last_words(request: HttpRequest, held: Access, body: Push) -> dict[str, Any]:
    """Who is no longer on the farm hands in what she recorded, and hears nothing of it any more."""
    answers = record_events(batch_of(request, held, body)) if body.events else []
    log.info("push", extra=tally(answers))
    if body.events and not answers:
        raise ApiError(*NO_ROOM, wait_s=ROOM_AGAIN_S)
    return {"removed": True, "answers": answers, "epoch": held.farm.epoch, "min_app": MIN_APP, "now": now_ms()}


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


def same_epoch(farm: Farm, epoch: int, cursor: At, most_a_day: int | None = None) -> None:
    """A phone ahead of the log has seen entries that are gone: somebody put an old database back by hand.

    Told by anybody, that would be a way to make every phone offer all it has again: it must be a cursor of ours. Where
    it is none, or our key is another by now, this phone alone starts again.
    """
    if epoch == farm.epoch and cursor.seq > farm.seq:
        if not is_ours(cursor.signed, farm.id, epoch, cursor.seq, cursor.outlook_rev):
            log.warning("A phone claims to have seen more than the log holds, and cannot show it")
        elif most_a_day is None or new_epochs_of_today(farm.id) < most_a_day:
            why = f"a phone had seen {cursor.seq}, the log ends at {farm.seq}"
            farm.epoch = start_new_epoch(farm.id, why, seen=epoch)
            log.error("The log is shorter than a phone remembers: new epoch")
        raise put_back(farm)
    if epoch != farm.epoch:
        raise put_back(farm)


def put_back(farm: Farm) -> ApiError:
    message = "The server was put back to an earlier day: the phone offers its entries again."
    return ApiError(409, "epoch", message, "epoch", epoch=farm.epoch)


def batch_of(request: HttpRequest, held: Access, body: Push) -> Batch:
    return Batch(
        farm_id=held.farm.id,
        person_id=held.person.pk,
        role=held.role,
        device=body.device,
        phone_ms=body.now,
        events=[bytes(raw) for raw in body.events],
        app="".join(filter(str.isprintable, body.app))[:20],
        seq=body.cursor.seq,
        outlook_rev=body.cursor.outlook_rev,
        pending=min(body.pending, 1_000_000),
        seats=seats_among(request, (member.person for member in held.members)),
        before=body.before,
        gone=held.gone,
        carried=body.carried,
    )


def tally(answers: list[dict[str, Any]]) -> dict[str, Any]:
    states = [answer["st"] for answer in answers]
    return {"count": {state: states.count(state) for state in sorted(set(states))}}


def pulled(held: Access, cursor: At, limit: int, *, moved: bool = False) -> dict[str, Any]:
    farm = Farm.objects.get(pk=held.farm.id) if moved else held.farm
    page = changes(farm, Cursor(cursor.seq, cursor.outlook_rev), limit, held.person.pk, held.only)
    return {**page, "people": held.people(), "scope": held.scope}


@require_GET
def pull(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id)
    cursor = At(number(request, "seq", 0), number(request, "outlook_rev", 0), request.GET.get("signed", ""))
    with about(farm=farm_id):
        if cursor.seq > held.farm.seq:
            same_epoch(held.farm, number(request, "epoch", held.farm.epoch), cursor, EPOCHS_A_DAY_BY_GET)
        return packed(request, pulled(held, cursor, min(max(number(request, "limit", PAGE), 1), PAGE)), QUICK)


@require_GET
def start(request: HttpRequest, farm_id: str) -> HttpResponse:
    held = access(request, farm_id)
    with about(farm=farm_id):
        page = bootstrap(farm_id, held.person.pk, held.only)
        return packed(request, {**page, "people": held.people(), "scope": held.scope})


def number(request: HttpRequest, name: str, default: int) -> int:
    value = request.GET.get(name, "")
    if not value:
        return default
    if not (value.isascii() and value.isdigit() and len(value) < 16):
        raise ApiError(400, "bad_field", f"{name} must be a whole number.", name)
    return int(value)
