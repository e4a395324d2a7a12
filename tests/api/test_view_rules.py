"""Who may come in and how often is said at each view, where REST framework looks for it."""

from __future__ import annotations

from typing import Any

import pytest
from django.urls import URLPattern
from rest_framework.permissions import AllowAny
from rest_framework.throttling import BaseThrottle

from api import leaving
from api.account import doors
from api.permissions import Keeper, Member, Owner, Proved, Recorder, SignedIn
from api.throttle import Throttle
from api.urls import urlpatterns
from api.views import BodyView, FarmView
from herd.models import Tries
from herd.services.limits import Limit
from tests.people import PASSWORD, People
from tests.phones import Phone

VIEWS: dict[str, Any] = {
    str(one.pattern): vars(one.callback)["cls"]
    for one in urlpatterns
    if isinstance(one, URLPattern) and "cls" in vars(one.callback)
}
# Nobody need be signed in at these: each asks for a secret, or says nothing of anybody.
OPEN = {"session", "sign-up", "recovery", "invitations/look", "invitations/accept"}
# What an owner takes back, or sees, without having proved herself; what each is told of on her own phone.
UNPROVED = {"farms/<str:farm_id>/audit", "farms/<str:farm_id>/set-aside", "farms/<str:farm_id>/members",
            "farms/<str:farm_id>/invitations/<str:invitation>",
            "farms/<str:farm_id>/notices", "farms/<str:farm_id>/notices/try"}  # fmt: skip
# These ask for the password itself.
AGAIN = {"farms/<str:farm_id>/export", "farms/<str:farm_id>/close", "farms/<str:farm_id>/people/<str:person_id>/erase"}


@pytest.mark.parametrize("route", VIEWS)
def test_each_view_says_who_may_come_in(route: str) -> None:
    view = VIEWS[route]
    asked = view.permission_classes
    assert issubclass(view, BodyView)
    assert (AllowAny in asked) == (route in OPEN)
    if not route.startswith("farms/"):
        assert route in OPEN or SignedIn in asked
        return
    assert issubclass(view, FarmView)
    assert len({Owner, Keeper, Recorder, Member} & set(asked)) == 1
    assert (Proved in asked) == (route not in UNPROVED | AGAIN)
    assert (Member in asked) == (route == "farms/<str:farm_id>/leave")


@pytest.mark.parametrize("route", VIEWS)
def test_a_body_belongs_to_a_method_there_is(route: str) -> None:
    view = VIEWS[route]
    assert all(hasattr(view, method.lower()) for method in view.takes)
    assert all(issubclass(one, Throttle) and issubclass(one, BaseThrottle) for one in view.throttle_classes)
    assert view.takes or not view.throttle_classes


def test_what_is_not_filled_in_is_no_try(people: People) -> None:
    phone = Phone(people.farm, people.ada)
    for path, body in (
        ("/api/sign-up", {"name": "Kit"}),
        ("/api/recovery", {"name": "Ada", "code": "AAAA-AAAA"}),
        ("/api/recovery", {"name": "Ada", "code": "AAAA-AAAA", "password": "short"}),
        ("/api/invitations/look", {}),
        ("/api/farms", {"name": "Hill"}),
    ):
        assert phone.send(path, body).status_code in (400, 401), path
    assert not Tries.objects.exists()


def test_too_often_says_how_long(people: People) -> None:
    phone = Phone(people.farm, people.ada)
    said = [phone.send("/api/invitations/look", {"code": "AAAAAA"}) for _ in range(doors.CODES.most + 1)]
    assert {one.status_code for one in said[:-1]} == {404}
    last = said[-1]
    assert (last.status_code, last.json()["code"], last.json()["where"]) == (429, "busy", "")
    assert 0 < int(last["Retry-After"]) == last.json()["wait_s"] <= doors.CODES.window_s


def test_a_stranger_hears_nothing_of_the_body(people: People) -> None:
    """There is no such farm for him, whatever he forgot to say."""
    dov = Phone(people.dovs_farm, people.dov)
    dov.client.force_login(people.dov)
    for rest in ("export", "close", "invitations"):
        assert dov.send(f"/api/farms/{people.farm.id}/{rest}", {}).status_code == 404, rest


def test_a_mistyped_password_is_no_export(ada: Phone, people: People, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(leaving, "EXPORTS", Limit("exports", 1, 60))
    path = f"/api/farms/{people.farm.id}/export"
    said = [ada.send(path, {"password": word}).status_code for word in ("one", "two", PASSWORD, PASSWORD)]
    assert said == [400, 400, 200, 429]
