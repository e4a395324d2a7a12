"""The hand behind the server in the client's protocol tests: one JSON command a line in, one JSON answer a line out.

Started by frontend/tests/protocol/server.ts, after Django's setup, beside a running server on the same data.
"""

from __future__ import annotations

import json
import random
import sys
from pathlib import Path
from typing import Any

from django.contrib.sessions.models import Session
from django.db import transaction

from herd.models import Event, Farm, Person, Quarantine
from herd.models.event import REFUSED
from herd.models.farm import FAMILY
from herd.services.append import append
from herd.services.backup import backup
from herd.services.bootstrap import snapshot
from herd.services.clock import day_of, now_ms
from herd.services.for_the_owner import waiting
from herd.services.make_farm import add_member, make_farm
from herd.services.rebuild import rebuild
from herd.services.restore import restore
from herd.services.wire import decode
from herd.state.fold import fold
from herd.state.kinds import CHAINS
from herd.state.readable import readable
from herd.state.upcast import upcast
from tests.support import newer_kinds, planted_bugs, protocol_faults
from tests.support.generate_cases import canonical
from tests.support.poison import Poisoned
from tests.support.poisoned_row import poisoned_row

Answer = Any


def farm(people: int, zone: str) -> Answer:
    """A farm with so many members, the first its owner."""
    made = [Person(name=f"Person {n}") for n in range(people)]
    for person in made:
        person.set_unusable_password()
        person.save()
    place = make_farm("Hill", zone, made[0])
    for person in made[1:]:
        add_member(place, person, FAMILY, by=made[0])
    return {"farm": place.id, "people": [person.pk for person in made]}


def sign_out_everybody() -> Answer:
    return Session.objects.all().delete()[0]


def back_up(file: str) -> Answer:
    return backup(Path(file)).counts["event"]


def put_back(file: str) -> Answer:
    return restore(Path(file))["event"]


def log(farm: str) -> Answer:
    """What the farm's log, its refused entries and the owner's list hold, and the view Python folds from the list a new
    phone gets."""
    rows = list(Event.objects.filter(farm_id=farm).order_by("seq").values_list("seq", "raw"))
    refused = Quarantine.objects.filter(farm_id=farm).values_list("event_id", flat=True)
    events = [{"seq": seq, **decode(raw)} for seq, raw in rows]
    view = canonical(fold([kept.event for kept in snapshot(Farm.objects.get(pk=farm))]))
    on_list = waiting(farm).values_list("event_id", flat=True)
    stands = Event.objects.filter(farm_id=farm).exclude(fold_status=REFUSED).values_list("id", flat=True)
    return {"events": events, "stands": list(stands), "refused": list(refused), "on_list": list(on_list), "view": view}


def poison(farm: str, does: list[str], seed: int) -> Answer:
    """What nobody should have recorded, straight into the log as a build that did not know better let it in."""
    made = Poisoned(random.Random(seed))
    made.does = does
    with transaction.atomic():
        place = Farm.objects.select_for_update().get(pk=farm)
        events = [event for event in made.only_poison() if not readable(upcast(event)) or event["kind"] in CHAINS]
        rows = []
        for event in events:
            place.seq += 1
            rows.append(poisoned_row(place, event, json.dumps(now_of(event, place))))
        append(rows)
        place.save(update_fields=["seq"])
    return len(events)


def now_of(event: dict[str, Any], place: Farm) -> dict[str, Any]:
    """Of today: what is old is let go, poisoned or not."""
    now = now_ms()
    stamp = f"{now:012x}-{int(event['hlc'][13:17], 16):04x}-{event['device'][:8]}"
    day = day_of(now, place.zone).isoformat()
    return {**event, "on": day, "happened": now, "entered": now + place.seq, "hlc": stamp}


def upgrade() -> Answer:
    """This hand as the build that newer_server serves; every farm is folded again, as an upgrade does."""
    newer_kinds.become_newer()
    return [rebuild(farm_id) for farm_id in Farm.objects.values_list("id", flat=True)]


def downgrade() -> Answer:
    return newer_kinds.become_today()


def drop() -> Answer:
    """Everything, so that the next run starts as small as this one did."""
    Farm.objects.all().delete()
    Person.objects.all().delete()
    return sign_out_everybody()


COMMANDS = protocol_faults.COMMANDS | {
    made.__name__: made for made in (farm, sign_out_everybody, back_up, put_back, log, poison, upgrade, downgrade, drop)
}


def main() -> None:
    planted_bugs.plant()
    for line in sys.stdin:
        name, given = json.loads(line)
        try:
            answer: Answer = {"ok": COMMANDS[name](**given)}
        except Exception as error:
            answer = {"error": f"{type(error).__name__}: {error}"}
        print(json.dumps(answer), flush=True)
