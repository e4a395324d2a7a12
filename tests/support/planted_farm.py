"""A farm of the tests written to a server through the door of a phone's push: planted_farm NAME PASSWORD ZONE."""

from __future__ import annotations

import importlib
import sys
from datetime import datetime
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

A_BATCH = 400
CLOCKS = {"": "12:00", "morning": "06:00", "midday": "12:00", "evening": "18:00", "late": "22:00"}


def plant(name: str, password: str, zone_name: str, farm_module: str = "tests.support.act_farm") -> None:
    from herd.demo.diary import Diary
    from herd.demo.phone import new_phone, uuid7
    from herd.models import Person
    from herd.services.clock import now_ms
    from herd.services.make_farm import make_farm
    from herd.services.recompile import recompile
    from tests.bench.big_farm import push
    from tests.support.some_does import days_from_today

    rng, zone, now = Random(1), ZoneInfo(zone_name), now_ms()
    person = Person.objects.make(name, password)
    farm = make_farm("Every way", zone_name, person)
    diary = Diary(datetime.fromtimestamp(now / 1000, zone).date(), now, zone, rng)
    does = importlib.import_module(farm_module).farm_of()
    ours = {event["subject"] for event in does.log.events} - {"farm"}
    ids = {subject: uuid7(diary.at(500, "08:00"), rng) for subject in sorted(ours)} | {"farm": farm.id}
    for event in does.log.events:
        ago, data = -days_from_today(event["on"]), moved(event["data"], ids, diary, days_from_today)
        if event["kind"] == "ration" and event["subject"] in does.pens:
            data["to"] = "pen"
        # each entry of a day a little after the one before, so that what names another comes after it
        diary.note(name, ago, CLOCKS[event["slot"]], event["kind"], ids[event["subject"]], data, slot=event["slot"])
    phone = new_phone(person.id, rng)
    events = diary.written({name: phone})
    for start in range(0, len(events), A_BATCH):
        push(farm.id, phone, events[start : start + A_BATCH], now)
    recompile(farm.id)


def moved(data: Any, ids: dict[str, str], diary: Any, days_from_today: Any) -> Any:
    """The same with the server's ids and today's dates."""
    if isinstance(data, dict):
        return {key: moved(value, ids, diary, days_from_today) for key, value in data.items()}
    if isinstance(data, list):
        return [moved(value, ids, diary, days_from_today) for value in data]
    if isinstance(data, str) and len(data) == 10 and data[4:5] == data[7:8] == "-":
        return diary.day(-days_from_today(data))
    return ids.get(data, data) if isinstance(data, str) else data


if __name__ == "__main__":
    import django

    django.setup()
    plant(*sys.argv[1:])
