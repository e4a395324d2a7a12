"""The demo farm in the database: people, two farms, and a log pushed by three phones. Does nothing where a farm is."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time
from pathlib import Path
from random import Random
from zoneinfo import ZoneInfo

from django.db import transaction

from herd.models import Farm, Person
from herd.models.farm import FAMILY as FAMILY_ROLE
from herd.models.farm import HELPER as HELPER_ROLE
from herd.models.farm import OWNER as OWNER_ROLE
from herd.services.clock import day_of
from herd.services.make_farm import add_member, make_farm
from herd.services.recompile import recompile
from herd.services.record_events import Batch, record_events
from herd.state.order import Event

from .cast import FAMILY, FARM, HELPER, OWNER, SECOND_FARM
from .diary import Diary
from .passwords import keep, new_password
from .phone import Phone, as_pushed, new_phone
from .story import log_of_the_farm

ROLES = {OWNER: OWNER_ROLE, FAMILY: FAMILY_ROLE, HELPER: HELPER_ROLE}
BATCH = 500
# The morning chores are done, the evening's are not.
LOOKED_AT = time(9, 0)


class NotWritten(Exception):
    """The farm refused one of its own demo entries: the generator and the payload rules disagree."""


def moment_on(today: date, zone: str) -> int:
    """The instant at which a day that is not today is looked at."""
    return int(datetime.combine(today, LOOKED_AT, ZoneInfo(zone)).timestamp() * 1000)


def make_demo(folder: Path, zone: str, seed: int, now: int) -> bool:
    """A farm whose ninety days end at the instant given. False when there was a farm already, and nothing is made."""
    if Farm.objects.exists():
        return False
    rng, tz = Random(seed), ZoneInfo(zone)
    day = day_of(now, zone)
    passwords = {name: new_password() for name in ROLES}
    with transaction.atomic():
        people = {name: Person.objects.make(name, passwords[name]) for name in ROLES}
        farm = _farms(people, zone)
        phones = {name: new_phone(person.id, rng) for name, person in people.items()}
        push(farm, phones, log_of_the_farm(Diary(day, now, tz, rng), phones, farm.id), now)
        keep(folder, passwords)
    recompile(farm.id, day)
    return True


def _farms(people: dict[str, Person], zone: str) -> Farm:
    farm = make_farm(FARM, zone, people[OWNER])
    make_farm(SECOND_FARM, zone, people[OWNER])
    for name in (FAMILY, HELPER):
        add_member(farm, people[name], ROLES[name], by=people[OWNER])
    return farm


def push(farm: Farm, phones: dict[str, Phone], events: list[Event], now: int) -> None:
    """Each run of entries by one phone goes in as that phone would send it."""
    roles = {phones[name].author: role for name, role in ROLES.items()}
    for author, device, run in batches(events):
        raw = [as_pushed(event) for event in run]
        batch = Batch(farm.id, author, roles[author], device, now, raw, now=now)
        refused = [answer for answer in record_events(batch) if answer["st"] != "ok"]
        if refused:
            raise NotWritten(f"{refused[0]}")


def batches(events: list[Event]) -> Iterator[tuple[str, str, list[Event]]]:
    """Phones that send when they have a full batch: (person, device, entries), the owner's records before all else."""
    by_phone: dict[tuple[str, str], list[Event]] = {}
    for event in events:
        by_phone.setdefault((event["author"], event["device"]), []).append(event)
    for (author, device), run in by_phone.items():
        for start in range(0, len(run), BATCH):
            yield author, device, run[start : start + BATCH]
