from datetime import UTC, datetime, timedelta

import pytest
from django.contrib.sessions.models import Session
from django.http import HttpRequest, HttpResponse
from django.test import Client
from django.urls import path
from django.utils import timezone

from herd.models import Person

PAGE = "/who"


def who(request: HttpRequest) -> HttpResponse:
    return HttpResponse(request.user.get_username())


urlpatterns = [path("who", who)]
pytestmark = pytest.mark.urls(__name__)
NOON = datetime(2026, 3, 1, 12, tzinfo=UTC)


@pytest.fixture
def signed_in(client: Client, db: None) -> Client:
    client.force_login(Person.objects.make("Olive", "a long enough one"))
    return client


def expires_at() -> datetime:
    return Session.objects.get().expire_date


def test_each_day_of_use_starts_the_ninety_days_again(signed_in: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    signed_in.get(PAGE)
    assert expires_at() == NOON + timedelta(days=90)
    monkeypatch.setattr(timezone, "now", lambda: NOON + timedelta(days=50))
    signed_in.get(PAGE)
    assert expires_at() == NOON + timedelta(days=140)


def test_a_second_request_on_the_same_day_writes_nothing(signed_in: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(timezone, "now", lambda: NOON)
    signed_in.get(PAGE)
    monkeypatch.setattr(timezone, "now", lambda: NOON + timedelta(hours=5))
    signed_in.get(PAGE)
    assert expires_at() == NOON + timedelta(days=90)
