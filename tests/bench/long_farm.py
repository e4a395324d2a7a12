"""What one entry, a pull and a new phone's start cost where years were recorded before: long_farm DAYS ROUNDS.

In milliseconds of the processor, which other programs on the machine do not move. The last sixty days are the same
however long the rest is. Run inside a server's data; prints JSON.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from datetime import datetime
from random import Random
from statistics import median
from typing import Any
from zoneinfo import ZoneInfo

import brotli

from tests.bench import big_farm
from tests.bench.big_farm import NAME, PASSWORD, PERSON, ZONE

DOES = 20
# Long ago as lately: a plan is changed each month, one look in a hundred is taken back.
PLAN_D, TAKEN_BACK = 30, 100


def make(days: int) -> dict[str, Any]:
    from herd.demo.diary import Diary
    from herd.demo.phone import new_phone, uuid7
    from herd.models import Person
    from herd.models.farm import HELPER
    from herd.services.bootstrap import shorten
    from herd.services.clock import now_ms
    from herd.services.make_farm import add_member, make_farm

    rng, zone, now = Random(1), ZoneInfo(ZONE), now_ms()
    person, helper = Person.objects.make(PERSON, PASSWORD), Person.objects.make("Wren", PASSWORD)
    farm = make_farm(NAME, ZONE, person)
    add_member(farm, helper, HELPER, by=person)
    diary = Diary(datetime.fromtimestamp(now / 1000, zone).date(), now, zone, rng)
    born = diary.at(days + 3, "08:00")
    does = [uuid7(born + i, rng) for i in range(DOES)]
    pens = [uuid7(born + DOES + i, rng) for i in range(DOES // big_farm.A_PEN)]
    log = big_farm.Log(diary, PERSON, days, does, pens)
    big_farm.write(log)
    changed(log)
    phone = new_phone(person.pk, rng)
    events = diary.written({PERSON: phone})
    for start in range(0, len(events), big_farm.A_BATCH):
        big_farm.push(farm.id, phone, events[start : start + big_farm.A_BATCH], now)
    work_off(farm.id)
    shorten(farm.id)
    return {"farm": farm.id, "person": person.pk, "helper": helper.pk, "does": does, "pens": pens}


def changed(log: big_farm.Log) -> None:
    for ago in range(log.days, 0, -1):
        if ago % PLAN_D == 0:
            for doe in log.does:
                log.note(ago, "20:00", "ration", doe, planned(log, doe, ago), slot="evening", key=f"{doe}|{ago}")
        if ago % (TAKEN_BACK // 16) == 0:
            doe, key = log.does[ago % DOES], f"look|{ago}"
            log.note(ago, "10:00", "udder", doe, {"fill": 3, "uneven": False}, key=key)
            log.diary.follow(log.who, key, "void", doe, taken_back(key))


def planned(log: big_farm.Log, doe: str, ago: int) -> Callable[[Any], dict[str, Any]]:
    """Whoever changes a plan has seen the one before."""
    steps = [{"on": log.diary.day(ago), "g": 100 + ago % 7 * 10}]
    plan = {"to": "doe", "slot": "evening", "feed": big_farm.GRAIN, "steps": steps}
    return lambda written: {**plan, "base": written.get(f"{doe}|{ago + PLAN_D}", {"hlc": ""})["hlc"]}


def taken_back(key: str) -> Callable[[Any], dict[str, Any]]:
    return lambda written: {"of": written[key]["id"]}


def work_off(farm_id: str) -> None:
    from herd.services.work import work_off

    work_off(farm_id)


class Asking:
    """One phone at the end of the log, through the door of the API."""

    def __init__(self, made: dict[str, Any], helper: bool = False) -> None:
        from django.test import Client

        from herd.models import Person

        self.made, self.client = made, Client(SERVER_NAME="localhost", HTTP_ACCEPT_ENCODING="gzip, br")
        person = Person.objects.get(pk=made["helper" if helper else "person"])
        self.client.force_login(person)
        self.person, self.path, self.n = person.pk, f"/api/farms/{made['farm']}", 0

    def push(self, kind: str, subject: str, data: dict[str, Any], slot: str = "") -> float:
        from herd.demo.phone import new_phone

        farm, now = self.farm(), int(time.time() * 1000)
        self.n += 1
        phone = new_phone(self.person, Random(f"{self.person} {time.time_ns()}"))
        on = time.strftime("%Y-%m-%d", time.gmtime())
        event = phone.write(kind, subject, data, (on, slot, now, now))
        head = {"device": phone.device, "epoch": farm.epoch, "now": now, "events": [event]}
        body = {**head, "cursor": {"seq": farm.seq, "outlook_rev": farm.outlook_rev}}
        began = time.process_time()
        reply = self.client.post(f"{self.path}/events", json.dumps(body), content_type="application/json")
        took = time.process_time() - began
        text = brotli.decompress(reply.content) if reply.get("Content-Encoding") == "br" else reply.content
        answer = json.loads(text)["answers"][0]
        # A helper's cut of a late doe is judged like any, and refused.
        assert answer["st"] == "ok" or answer["code"] == "not_allowed", answer
        work_off(self.made["farm"])
        return took

    def get(self, what: str) -> float:
        farm = self.farm()
        query = {"seq": max(farm.seq - 1, 0), "outlook_rev": farm.outlook_rev} if what == "changes" else {}
        began = time.process_time()
        reply = self.client.get(f"{self.path}/{what}", query)
        took = time.process_time() - began
        assert reply.status_code == 200
        return took

    def farm(self) -> Any:
        from herd.models import Farm

        return Farm.objects.get(pk=self.made["farm"])


def measured(made: dict[str, Any], rounds: int) -> dict[str, float]:
    from herd.models import Event

    own, helper = Asking(made), Asking(made, helper=True)
    rng = Random(2)
    doe = lambda: rng.choice(made["does"])  # noqa: E731
    on = time.strftime("%Y-%m-%d", time.gmtime())

    def ration(g: int) -> dict[str, Any]:
        steps = [{"on": on, "g": g}]
        return {"to": "doe", "slot": "evening", "feed": big_farm.GRAIN, "steps": steps, "base": ""}

    def rules(n: int) -> dict[str, Any]:
        return {"f": {"level_pm": 70 + n}, "base": {"level_pm": ""}}

    meal = {"lines": [{"to": "", "feed": "orchardgrass_hay", "g": 9000}], "adds": True}
    water = {"place": "Well", "drunk_l": 40, "values": [{"what": "sulfate", "printed": "90", "unit": "mg_l"}]}
    jobs: dict[str, Callable[[int], float]] = {
        "score": lambda n: own.push("score", doe(), {"x100": 300}),
        "rules": lambda n: own.push("rules", made["farm"], rules(n)),
        "water test": lambda n: own.push("water", made["farm"], water),
        "ration": lambda n: own.push("ration", doe(), ration(100 + n)),
        "helper's ration": lambda n: helper.push("ration", doe(), ration(20)),
        "pen feeding": lambda n: own.push("fed", rng.choice(made["pens"]), meal, "morning"),
        "pull": lambda n: own.get("changes"),
        "bootstrap": lambda n: own.get("bootstrap"),
    }
    for job in jobs.values():
        job(0)
    found = {name: 1000 * median(job(n) for n in range(rounds)) for name, job in jobs.items()}
    return {"events": Event.objects.count(), **found}


if __name__ == "__main__":
    import django
    from django.db import connection

    django.setup()
    connection.ensure_connection()
    print(json.dumps(measured(make(int(sys.argv[1])), int(sys.argv[2]))))
