"""Eight real threads on one farm, on whichever database this run uses: no gap, no double, no loss, no lock error."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from django.db import connection

from herd.models import Event, Farm, OutlookRow
from herd.services.recompile import recompile
from tests.logs import record
from tests.people import make_people
from tests.phones import Phone, new_id

THREADS, PUSHES, BATCH = 8, 6, 10


@pytest.fixture
def farm(transactional_db: None, settings: Any) -> Farm:
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
    return make_people().farm


def all_at_once(jobs: list[Any]) -> list[Any]:
    def run(job: Any) -> Any:
        try:
            return job()
        finally:
            connection.close()

    with ThreadPoolExecutor(THREADS) as pool:
        return [future.result(timeout=120) for future in [pool.submit(run, job) for job in jobs]]


def test_seq_is_gapless_and_nothing_is_lost_or_doubled(farm: Farm) -> None:
    ada = farm.memberships.get(role="owner").person
    doe = new_id()
    record(Phone(farm, ada), Phone(farm, ada).record("doe", doe, {"name": "Ivy"}))
    phones = [Phone(farm, ada) for _ in range(THREADS)]
    batches = [
        [phone.event("udder", doe, {"fill": 1, "uneven": False}) for _ in range(BATCH)]
        for phone in phones
        for _ in range(PUSHES)
    ]
    # Every batch goes out twice, as after a lost answer.
    jobs = [
        lambda phone=phones[n % THREADS], batch=batch: record(phone, *batch)
        for n, batch in enumerate([*batches, *batches])
    ]
    answers = [answer for batch in all_at_once(jobs) for answer in batch]
    total = THREADS * PUSHES * BATCH
    assert sorted(answer["st"] for answer in answers) == ["dup"] * total + ["ok"] * total
    assert list(Event.objects.order_by("seq").values_list("seq", flat=True)) == list(range(1, total + 2))
    assert Event.objects.values("id").distinct().count() == total + 1
    farm.refresh_from_db()
    assert farm.seq == total + 1


def test_outlook_revisions_are_gapless_when_all_compile_at_once(farm: Farm) -> None:
    ada = farm.memberships.get(role="owner").person
    does = [new_id() for _ in range(4)]
    record(Phone(farm, ada), *(Phone(farm, ada).record("doe", doe, {"name": "Ivy"}) for doe in does))

    def job(n: int) -> int:
        phone = Phone(farm, ada)
        weight = {"g": 30_000 + 100 * n, "how": "scale", "girth_mm": 0, "length_mm": 0}
        record(phone, phone.event("weight", does[n % 4], weight))
        return recompile(farm.id)

    changed = sum(all_at_once([lambda n=n: job(n) for n in range(16)])) + recompile(farm.id)
    farm.refresh_from_db()
    assert farm.outlook_rev == changed
    assert OutlookRow.objects.count() == 5
    assert max(OutlookRow.objects.values_list("rev", flat=True)) == farm.outlook_rev
    assert recompile(farm.id) == 0
