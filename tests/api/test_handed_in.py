"""Who is on the farm no more hands in what her entries show, and nothing else."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Blob, Farm, Membership
from herd.services.media_sweep import DAY_MS, sweep
from tests.people import People
from tests.phones import Phone, new_id
from tests.support.media import jpeg, mark

pytestmark = pytest.mark.django_db(transaction=True)
HERS, OTHER = jpeg(grain=b"hers"), jpeg(grain=b"other")


@pytest.fixture
def cleo(people: People) -> Phone:
    return Phone(people.farm, people.cleo).sign_in()


def says(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")


def test_a_picture_comes_after_the_entry_that_waits_for_the_owner(ada: Phone, cleo: Phone, people: People) -> None:
    doe = new_id()
    ada.push(ada.record("doe", doe, {"name": "Ivy"}))
    path = f"/api/farms/{people.farm.id}/media/"
    data = {"what": "her", "sha256": mark(HERS), "bytes": len(HERS), "w": 640, "h": 480}
    shown = cleo.event("picture", doe, data)
    ada.ask("DELETE", f"/api/farms/{people.farm.id}/members/{people.cleo.pk}")

    assert says(put(cleo, path, HERS)) == (403, "removed"), "no entry shows it"
    said = cleo.push_raw(cleo.body([shown])).json()
    assert (said["removed"], said["answers"][0]["code"]) == (True, "removed")
    assert put(cleo, path, HERS).status_code == 200
    assert says(put(cleo, path, OTHER)) == (403, "removed")
    assert says(cleo.client.get(path + mark(HERS))) == (403, "removed"), "she sees none any more"

    Blob.objects.update(received_ms=Blob.objects.get().received_ms - 60 * DAY_MS)
    assert sweep(Farm.objects.get(pk=people.farm.pk)) == 0, "the owner has not decided"
    aside = f"/api/farms/{people.farm.id}/set-aside"
    [row] = ada.client.get(aside).json()["entries"]
    assert ada.ask("POST", f"{aside}/{row['id']}/dismiss").status_code == 204
    assert says(put(cleo, path, HERS)) == (403, "removed")
    assert sweep(Farm.objects.get(pk=people.farm.pk)) == 1
    assert Membership.everyone.get(person=people.cleo).gone_at


def put(phone: Phone, path: str, content: bytes) -> Any:
    token = {"X-CSRFToken": phone.token}
    return phone.client.put(path + mark(content), content, content_type="image/jpeg", headers=token)
