"""Farms and people for a crowd of phones, made inside a server's data: crowd FARMS. Prints what each phone needs."""

from __future__ import annotations

import json
import sys
from random import Random
from typing import Any

ZONE, DOES, PASSWORD = "UTC", 20, "two hundred quiet phones"


def make(farms: int) -> list[dict[str, Any]]:
    from herd.models import Person
    from herd.services.make_farm import make_farm

    made = []
    for n in range(farms):
        person = Person.objects.make(f"Keeper {n}", PASSWORD)
        farm = make_farm(f"Hollow {n}", ZONE, person)
        made.append({"farm": farm.id, "person": person.pk, "does": stock(farm.id, person, n), **signed_in(person)})
    return made


def stock(farm_id: str, person: Any, seed: int) -> list[str]:
    from herd.demo.phone import new_phone, uuid7
    from herd.services.clock import now_ms
    from tests.bench.big_farm import push

    rng, now = Random(seed), now_ms()
    phone = new_phone(person.pk, rng)
    does = [uuid7(now, rng) for _ in range(DOES)]
    on = _today(now)
    fields = {"size": "standard", "breed": "alpine", "kiddings_before": 2}
    events = [
        phone.write(
            "doe", doe, {"f": {"name": f"Doe {i}", **fields}, "base": dict.fromkeys(fields, "")}, (on, "", now, now)
        )
        for i, doe in enumerate(does)
    ]
    bred = {"from_on": on, "to_on": on, "how": "hand", "buck": ""}
    push(farm_id, phone, [*events, *(phone.write("bred", doe, bred, (on, "", now, now)) for doe in does)], now)
    return does


def _today(now: int) -> str:
    from herd.services.clock import day_of

    return day_of(now, ZONE).isoformat()


def signed_in(person: Any) -> dict[str, str]:
    """A session as a sign-in would leave it, without two hundred slow hashes."""
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore

    session = SessionStore()
    session[SESSION_KEY] = person.pk
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    return {"session": str(session.session_key)}


if __name__ == "__main__":
    import django

    django.setup()
    from herd.models import Farm
    from herd.services.recompile import recompile

    print(json.dumps(make(int(sys.argv[1]))))
    for farm in Farm.objects.all():
        recompile(farm.id)
