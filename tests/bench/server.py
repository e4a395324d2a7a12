"""What the server costs: push, pull, compile. Run: python -m tests.bench.server (DATABASE_URL chooses the database).

Ratios are taken in one run on one machine; the milliseconds alone say little.
"""

from __future__ import annotations

import json
import os
import tempfile
import time
import uuid
from collections.abc import Callable
from typing import Any

EVENTS, BATCH, DOES, SINGLES = 1000, 500, 20, 200
ROUNDS = 5


def best_ms(job: Callable[[Any], Any], prepare: Callable[[], Any], rounds: int = ROUNDS) -> float:
    times = []
    for _ in range(rounds):
        made = prepare()
        start = time.perf_counter()
        job(made)
        times.append((time.perf_counter() - start) * 1000)
    return min(times)


def main() -> None:
    os.environ["MANGERLINE_DATA"] = tempfile.mkdtemp()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "herd.settings")
    os.environ["MANGERLINE_LOG"] = "WARNING"
    import django

    django.setup()
    from django.db import connection
    from django.test.utils import setup_test_environment, teardown_test_environment

    if connection.vendor == "sqlite":
        connection.settings_dict["TEST"]["NAME"] = os.path.join(os.environ["MANGERLINE_DATA"], "bench.sqlite3")
    setup_test_environment()
    old = connection.creation.create_test_db(verbosity=0)
    try:
        measure()
    finally:
        connection.creation.destroy_test_db(old, verbosity=0)
        teardown_test_environment()


def measure() -> None:
    from django.db import connection

    from herd.models import Event
    from tests.people import make_people
    from tests.phones import Phone, new_id

    phone = Phone((people := make_people()).farm, people.ada).sign_in()
    does = [new_id() for _ in range(DOES)]
    phone.push(*(phone.record("doe", doe, {"name": "Ivy", "size": "mini"}) for doe in does))
    token, path = phone.token, f"/api/farms/{phone.farm.id}/events"

    def bodies(size: int, count: int) -> list[bytes]:
        phone.seq = Event.objects.count()
        looks = [phone.event("udder", does[n % DOES], {"fill": 2, "uneven": False}) for n in range(size * count)]
        return [json.dumps(phone.body(looks[n * size : (n + 1) * size])).encode() for n in range(count)]

    def post(made: list[bytes]) -> None:
        for body in made:
            assert phone.send(path, body, token=token).status_code == 200

    pushed = best_ms(post, lambda: bodies(BATCH, EVENTS // BATCH))
    from api import sync

    sync.PUSHES_A_MINUTE = 10**9
    single = best_ms(post, lambda: bodies(1, SINGLES), 1) * EVENTS / SINGLES
    raw = best_ms(write_raw, raw_rows)
    queries, size = idle(phone)
    print(f"{connection.vendor}, {EVENTS} events")
    print(f"  raw executemany of the same rows   {raw:8.1f} ms     1.0")
    print(f"  push, {BATCH} a batch, over HTTP      {pushed:8.1f} ms  {pushed / raw:6.1f}")
    print(f"  push, one POST per event           {single:8.1f} ms  {single / raw:6.1f}")
    print(f"  idle pull                          {queries} queries, {size} bytes")
    print(f"  compile                            {compile_ms(phone.farm.id):8.1f} ms a doe")


def raw_rows() -> list[tuple[Any, ...]]:
    from herd.models import Event
    from herd.services.append import Entry

    first = int(time.time() * 1000)
    rows = Event.objects.order_by("-seq").values_list(*Entry._fields)[:EVENTS]
    return [Entry(*row)._replace(seq=first * 1000 + n, id=str(uuid.uuid4())) for n, row in enumerate(rows)]


def write_raw(rows: list[Any]) -> None:
    from django.db import transaction

    from herd.services.append import append

    with transaction.atomic():
        append(rows)


def idle(phone: Any) -> tuple[int, int]:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    page = phone.get("bootstrap").json()
    with CaptureQueriesContext(connection) as seen:
        answer = phone.get("changes", seq=page["seq"], outlook_rev=page["outlook_rev"])
    return len(seen), len(answer.content)


def compile_ms(farm_id: str) -> float:
    from herd.models import Folded
    from herd.services.recompile import recompile

    def aged() -> None:
        Folded.objects.filter(kind="doe").update(stale=True)
        from herd.models import Farm, OutlookRow

        Farm.objects.update(outlooks_due_on="")
        OutlookRow.objects.update(inputs_sha256="")

    return best_ms(lambda _: recompile(farm_id), aged) / DOES


if __name__ == "__main__":
    main()
