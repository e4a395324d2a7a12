"""A generated farm with a full window of meals, written through the door of a phone's push: big_farm DOES DAYS."""

from __future__ import annotations

import sys
from datetime import datetime
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

ZONE, NAME, PERSON, PASSWORD = "UTC", "Wide Hollow", "Odette", "sixty quiet goats"
A_PEN = 10
A_BATCH = 500
SLOTS = {"morning": "06:00", "evening": "18:00"}
HAYS = (("orchardgrass_hay", 1500), ("alfalfa_hay_mid", 350))
GRAIN, GRAIN_G = "barley_rolled", 150
LOOK_D = {"score": 20, "weight": 30, "milk": 7, "udder": 5}
LEFT_ONE_IN = 12
# Days since breeding, pen by pen: late, close-up, dry, mid, early, open.
BRED = (128, 140, 105, 80, 45, 0)


def make(does: int, days: int, seed: int = 1) -> None:
    from herd.demo.diary import Diary
    from herd.demo.phone import new_phone, uuid7
    from herd.models import Person
    from herd.services.clock import now_ms
    from herd.services.make_farm import make_farm
    from herd.services.recompile import recompile

    rng, zone, now = Random(seed), ZoneInfo(ZONE), now_ms()
    person = Person.objects.make(PERSON, PASSWORD)
    farm = make_farm(NAME, ZONE, person)
    diary = Diary(datetime.fromtimestamp(now / 1000, zone).date(), now, zone, rng)
    born = diary.at(days + 3, "08:00")
    ids = {f"doe{i}": uuid7(born, rng) for i in range(does)}
    pens = {f"pen{i}": uuid7(born, rng) for i in range((does + A_PEN - 1) // A_PEN)}
    write(Log(diary, PERSON, days, list(ids.values()), list(pens.values())))
    phone = new_phone(person.id, rng)
    events = diary.written({PERSON: phone})
    for start in range(0, len(events), A_BATCH):
        push(farm.id, phone, events[start : start + A_BATCH], now)
    recompile(farm.id)


def push(farm_id: str, phone: Any, events: list[Any], now: int) -> None:
    from herd.demo.phone import as_pushed
    from herd.models.farm import OWNER
    from herd.services.record_events import Batch, record_events

    raw = [as_pushed(event) for event in events]
    answers = record_events(Batch(farm_id, phone.author, OWNER, phone.device, now, raw, now=now))
    refused = [answer for answer in answers if answer["st"] != "ok"]
    if refused:
        raise RuntimeError(f"the farm refused a generated entry: {refused[0]}")


class Log:
    def __init__(self, diary: Any, who: str, days: int, does: list[str], pens: list[str]) -> None:
        self.diary, self.who, self.days, self.does, self.pens = diary, who, days, does, pens

    def note(self, ago: int, clock: str, kind: str, subject: str, data: Any, **more: Any) -> None:
        self.diary.note(self.who, ago, clock, kind, subject, data, **more)

    def record(self, kind: str, subject: str, fields: dict[str, Any]) -> None:
        self.note(self.days + 2, "19:00", kind, subject, {"f": fields, "base": dict.fromkeys(fields, "")})

    def of(self, pen: int) -> list[str]:
        return self.does[pen * A_PEN : (pen + 1) * A_PEN]


def write(log: Log) -> None:
    for i, pen in enumerate(log.pens):
        log.record("pen", pen, {"name": f"Pen {i + 1}", "order": i, "role": "other"})
        for slot in SLOTS:
            for feed, g in HAYS:
                plan(log, pen, "pen", slot, feed, g * len(log.of(i)) // 2)
    for i, doe in enumerate(log.does):
        life(log, i, doe)
    # Today's meals are left to be tapped.
    for ago in range(log.days, 0, -1):
        for i, pen in enumerate(log.pens):
            for slot, clock in SLOTS.items():
                meal(log, ago, (slot, clock), pen, log.of(i))
        looks(log, ago)


def life(log: Log, i: int, doe: str) -> None:
    size = "mini" if i % 3 == 0 else "standard"
    breed = "nigerian_dwarf" if size == "mini" else "alpine"
    fields = {"name": f"Doe {i + 1}", "size": size, "breed": breed, "kiddings_before": i % 4, "order": i % A_PEN}
    log.record("doe", doe, fields)
    log.note(log.days + 1, "19:30", "moved", doe, {"pen": log.pens[i // A_PEN]})
    if day := BRED[i // A_PEN % len(BRED)]:
        on = log.diary.day(day)
        log.note(day, "12:00", "bred", doe, {"from_on": on, "to_on": on, "how": "hand", "buck": ""}, entered=log.days)
    for slot in SLOTS:
        plan(log, doe, "doe", slot, GRAIN, GRAIN_G)


def plan(log: Log, subject: str, to: str, slot: str, feed: str, g: int) -> None:
    steps = [{"on": log.diary.day(log.days), "g": g}]
    data = {"to": to, "slot": slot, "feed": feed, "steps": steps, "base": ""}
    log.note(log.days + 1, "20:00", "ration", subject, data, slot=slot)


def meal(log: Log, ago: int, when: tuple[str, str], pen: str, does: list[str]) -> None:
    slot, clock = when
    lines = [{"to": "", "feed": feed, "g": g * len(does) // 2} for feed, g in HAYS]
    lines += [{"to": doe, "feed": GRAIN, "g": GRAIN_G} for doe in does]
    log.note(ago, clock, "fed", pen, {"lines": lines, "adds": False}, slot=slot, key=f"{pen}|{ago}|{slot}")
    for doe in does:
        if log.diary.rng.randrange(LEFT_ONE_IN) == 0:
            left = {"how": "left_some", "left_pct": 25, "feed": "", "fed": ""}
            log.note(ago, clock.replace(":00", ":30"), "intake", doe, left, slot=slot)


def looks(log: Log, ago: int) -> None:
    made = {
        "score": {"x100": 300},
        "weight": {"g": 45_000, "how": "scale", "girth_mm": 0, "length_mm": 0},
        "milk": {"g": 900, "fat_x100": 0},
        "udder": {"fill": 1, "uneven": False},
    }
    for i, doe in enumerate(log.does):
        for kind, every in LOOK_D.items():
            if (ago + i) % every == 0:
                log.note(ago, "09:00", kind, doe, made[kind], slot="morning" if kind == "milk" else "")


if __name__ == "__main__":
    import django

    django.setup()
    make(int(sys.argv[1]), int(sys.argv[2]))
