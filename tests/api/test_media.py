"""Pictures and recordings: kept by content, for the farm alone, and never with the place they were taken."""

from __future__ import annotations

from typing import Any

import pytest

from herd.models import Blob, Event, Farm, Membership
from herd.services.make_farm import add_member
from herd.services.media_sweep import DAY_MS, sweep
from tests.people import People
from tests.phones import Phone, new_id, states
from tests.support.media import jpeg, mark, part, wave

pytestmark = pytest.mark.django_db(transaction=True)


def put(phone: Phone, content: bytes, sha: str = "", farm: str = "") -> Any:
    path = f"/api/farms/{farm or phone.farm.id}/media/{sha or mark(content)}"
    return phone.client.put(path, content, content_type="image/jpeg", headers={"X-CSRFToken": phone.token})


def get(phone: Phone, sha: str, farm: str = "") -> Any:
    return phone.client.get(f"/api/farms/{farm or phone.farm.id}/media/{sha}")


@pytest.mark.parametrize(("content", "media"), [(jpeg(), "image/jpeg"), (wave(30), "audio/wav")])
def test_what_one_phone_sends_another_gets_to_the_byte(ada: Phone, ben: Phone, content: bytes, media: str) -> None:
    assert put(ada, content).status_code == 200
    assert put(ben, content).status_code == 200, "again is no error"
    answer = get(ben, mark(content))
    assert (answer.status_code, answer.content, answer.headers["Content-Type"]) == (200, content, media)
    assert answer.headers["Cache-Control"] == "no-store"
    assert Blob.objects.count() == 1


EXIF = part(0xE1, b"Exif\0\0" + b"MM\0*" + b"\0" * 20)
BAD = {
    "a picture with a place in it": jpeg(more=EXIF),
    "a comment in it": jpeg(more=part(0xFE, b"hill farm")),
    "cut off": jpeg()[:-2],
    "more pixels than any screen shows": jpeg(30_000, 30_000),
    "no size": jpeg(0, 0),
    "a part longer than the picture": b"\xff\xd8\xff\xe0\xff\xff\xff\xd9",
    "no parts": b"\xff\xd8\xff\xd9",
    "a page": b"<html><script>alert(1)</script>",
    "empty": b"",
    "a recording of a minute": wave(32),
    "a recording nobody can play": wave(form=85),
    "a recording at another rate": wave(rate_hz=16_000),
    "a recording without samples": wave(0),
    "a recording with something added": wave() + b"LIST\4\0\0\0hill",
    "too large": jpeg(grain=b"x" * 400_001),
}


@pytest.mark.parametrize("why", BAD)
def test_what_is_no_picture_of_ours_is_not_kept(ada: Phone, why: str) -> None:
    answer = put(ada, BAD[why])
    assert (answer.status_code, answer.json()["code"]) == (400, "bad_media"), why
    assert answer.json()["message"].endswith(".")
    assert not Blob.objects.exists()


def test_what_was_changed_on_the_way_is_not_kept(ada: Phone) -> None:
    answer = put(ada, jpeg(), mark(wave()))
    assert (answer.status_code, answer.json()["code"]) == (400, "bad_media")
    assert put(ada, jpeg(), "../../etc").status_code == 404
    assert put(ada, jpeg(), "A" * 64).status_code == 404


def test_nobody_else_sees_it(ada: Phone, people: People) -> None:
    content = jpeg()
    put(ada, content)
    dov = Phone(people.farm, people.dov).sign_in()
    assert get(dov, mark(content)).status_code == put(dov, content).status_code == 404
    assert get(dov, mark(content)).content == get(dov, mark(wave())).content
    assert get(dov, mark(content), people.dovs_farm.id).status_code == 404
    nobody = Phone(people.farm, people.ada)
    assert get(nobody, mark(content)).status_code == 401
    Membership.objects.filter(person=people.ada).update(role="adviser")
    assert put(ada, wave()).json()["code"] == "not_allowed"


def test_the_room_a_farm_has_is_said_and_kept_to(ada: Phone, settings: Any) -> None:
    settings.MEDIA_MB = 1
    contents = [jpeg(grain=bytes([n]) * 300_000) for n in range(4)]
    assert [put(ada, each).status_code for each in contents] == [200, 200, 200, 413]
    assert put(ada, contents[0]).status_code == 200, "what is kept already needs no room"
    said = put(ada, contents[3]).json()
    assert (said["code"], "1 MB" in said["message"]) == ("no_room", True)
    room = ada.get("media").json()
    assert room == {"used": sum(map(len, contents[:3])), "most": 1_000_000}


def picture(phone: Phone, content: bytes) -> dict[str, Any]:
    data = {"what": "her", "sha256": mark(content), "bytes": len(content), "w": 640, "h": 480}
    return phone.event("picture", new_id(), data)


def test_what_nothing_shows_is_let_go_after_a_month(ada: Phone, people: People) -> None:
    shown, taken_back, alone = (jpeg(grain=name) for name in (b"shown", b"back", b"alone"))
    for content in (shown, taken_back, alone):
        put(ada, content)
    events = [picture(ada, shown), picture(ada, taken_back)]
    back = ada.event("void", events[1]["subject"], {"of": events[1]["id"]})
    assert states(ada.push(*events, back)) == ["ok", "ok", "ok"]
    farm = Farm.objects.get(pk=people.farm.id)
    assert sweep(farm) == 0, "all of it is new"
    Blob.objects.update(received_ms=1)
    assert sweep(farm) == 1, "what was just taken back may be wanted again"
    assert not Blob.objects.filter(sha256=mark(alone)).exists()
    Event.objects.update(received_ms=ada.event("void", "", {})["happened"] - 31 * DAY_MS)
    assert sweep(farm) == 1
    assert list(Blob.objects.values_list("sha256", flat=True)) == [mark(shown)]


def test_an_adviser_sees_the_pictures_of_her_does_alone(ada: Phone, people: People) -> None:
    hers, other = jpeg(grain=b"hers"), jpeg(grain=b"other")
    doe = new_id()
    data = {"what": "her", "bytes": 9, "w": 640, "h": 480}
    shown = ((doe, hers), (new_id(), other))
    events = [ada.event("picture", subject, {**data, "sha256": mark(each)}) for subject, each in shown]
    assert states(ada.push(*events)) == ["ok", "ok"]
    for content in (hers, other):
        put(ada, content)
    add_member(people.farm, people.dov, "adviser", by=people.ada)
    Membership.objects.filter(person=people.dov, farm=people.farm).update(does=[doe])
    dov = Phone(people.farm, people.dov).sign_in()
    assert [get(dov, mark(content)).status_code for content in (hers, other)] == [200, 404]
