"""A process that sends notices, killed between any two of its steps, again and again on a database of its own.

`python -m tests.support.push_kills KILLS`, with MANGERLINE_DATA naming an empty folder; the tally as JSON. Each round
is a real process with a real commit: it ends by SIGKILL at a statement of the database or a step of sending.
"""

from __future__ import annotations

import json
import os
import random
import signal
import sys
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "herd.settings")
os.environ["MANGERLINE_PUSH_TO_OURSELVES"] = "1"
django.setup()

from django.core.management import call_command  # noqa: E402
from django.db import connection, connections  # noqa: E402

from herd.models import Farm, Person, Seat, Sending  # noqa: E402
from herd.services.clock import now_ms  # noqa: E402
from herd.services.make_farm import add_member, make_farm  # noqa: E402
from herd.services.telling import outbox, plan  # noqa: E402
from herd.services.telling.choices import choose, subscribe  # noqa: E402
from herd.services.telling.clocks import Clock  # noqa: E402
from tests.support.push_phone import Browser, Maker  # noqa: E402

# Statements and steps of one round, a few over: some rounds come to their end.
MOST_STEPS = 130
LONG_MS = 90_000
EACH = 3
LOUD = {"kinds": ["ill"], "quiet_from_min": 0, "quiet_to_min": 0, "language": "en"}


@dataclass
class Phone:
    """What the service worker does: one tag is shown once, however often it comes. Counted by what it is about."""

    browser: Browser
    tags: set[str] = field(default_factory=set)
    shown: Counter[str] = field(default_factory=Counter)
    again: int = 0

    def push(self, said: dict[str, Any]) -> None:
        if said["tag"] in self.tags:
            self.again += 1
        else:
            self.tags.add(said["tag"])
            self.shown[said["title"]] += 1


def farm_with(names: tuple[str, ...], maker: Maker) -> tuple[Farm, dict[str, Phone]]:
    people = [Person.objects.make(name, "wet gloves at dawn") for name in names]
    farm, phones = make_farm("Hill", "Europe/Vienna", people[0]), {}
    for person in people[1:]:
        add_member(farm, person, "helper", by=people[0])
    for person in people:
        seat = Seat.objects.create(browser=person.name, person=person, used_at=person.made_at)
        phones[f"/{person.name}"] = phone = Phone(Browser())
        subscribe(seat, **phone.browser.says(f"{maker.url}/{person.name}"))
        choose(farm, person, LOUD)
    return farm, phones


class Sender:
    """Forked for each round; `dies_at` counts statements and steps."""

    def __init__(self, farm: Farm, due: list[Clock]) -> None:
        self.farm, self.due = farm, due

    def round(self, now: int, dies_at: int) -> bool:
        """Whether it was killed."""
        connections.close_all()
        child = os.fork()
        if child == 0:
            self._live(now, dies_at)
        _, status = os.waitpid(child, 0)
        assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0, status
        return os.WIFSIGNALED(status)

    def _live(self, now: int, dies_at: int) -> None:
        left = dies_at

        def count(*_: Any) -> None:
            nonlocal left
            left -= 1
            if left <= 0:
                os.kill(os.getpid(), signal.SIGKILL)

        def statement(execute: Any, *given: Any) -> Any:
            count()
            said = execute(*given)
            count()
            return said

        plan.clocks_of = lambda farm, at: self.due  # type: ignore[assignment]
        outbox.STEPS.append(count)
        try:
            with connection.execute_wrapper(statement):
                outbox.step(now)
        except BaseException as error:
            print(repr(error), file=sys.stderr)
            os._exit(3)
        os._exit(0)


def run(kills: int, seed: int = 7) -> dict[str, int]:
    dice, maker, killed, rounds, n = random.Random(seed), Maker(), 0, 0, 0
    farm, phones = farm_with(("Ada", "Ben"), maker)
    now, due = now_ms() + 1000, list[Clock]()
    while killed < kills or Sending.objects.filter(done=False).exists() or rounds % 10:
        if killed < kills and rounds % 10 == 0:
            due = due[-EACH:]
            for _ in range(EACH):
                n += 1
                due.append(Clock("ill", "off_feed_vet", f"doe{n}", f"Doe {n}", now, f"{n}", True))
            Farm.objects.filter(pk=farm.pk).update(tell_at_ms=now)
        last = rounds % 10 >= 8 or killed >= kills
        killed += Sender(farm, due).round(now, 10**6 if last else dice.randint(1, MOST_STEPS))
        rounds += 1
        now += LONG_MS
        deliver(maker, phones)
    maker.close()
    wanted = {f"Doe {k}" for k in range(1, n + 1)}
    return {
        "killed": killed, "rounds": rounds, "notices": n * len(phones),
        "shown twice": sum(count - 1 for phone in phones.values() for count in phone.shown.values()),
        "lost": sum(len(wanted - set(phone.shown)) for phone in phones.values()),
        "sent again": sum(phone.again for phone in phones.values()),
    }  # fmt: skip


def deliver(maker: Maker, phones: dict[str, Phone]) -> None:
    got, maker.got[:] = list(maker.got), []
    for one in got:
        phones[one.path].push(phones[one.path].browser.opens(one.body))


if __name__ == "__main__":
    call_command("migrate", verbosity=0)
    print(json.dumps(run(int(sys.argv[1]))))
