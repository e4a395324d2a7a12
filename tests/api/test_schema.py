"""The schema is whole, says what the doors do, and the page of it loads nothing from elsewhere."""

from __future__ import annotations

import io
import re

from django.core.management import call_command
from django.test import Client
from django.urls import URLPattern

from api.schema.doors import DOORS
from api.schema.page import document
from api.urls import urlpatterns
from tests.phones import Phone

UNLISTED = {"schema", "docs", "^auth/browser/v1/(?:account|auth)/phone", "calendar/<str:secret>.ics"}


def test_it_is_valid_and_nothing_is_guessed() -> None:
    out, err = io.StringIO(), io.StringIO()
    call_command("spectacular", "--validate", "--fail-on-warn", "--format", "openapi-json", stdout=out, stderr=err)
    assert "paths" in out.getvalue()


def test_every_route_of_ours_is_in_it() -> None:
    routes = {str(one.pattern) for one in urlpatterns if isinstance(one, URLPattern)} - UNLISTED
    named = {re.sub(r"<\w+:(\w+)>", r"{\1}", f"/api/{route}") for route in routes}
    assert set(document()["paths"]) == named
    names = [one["operationId"] for methods in document()["paths"].values() for one in methods.values()]
    assert len(names) == len(set(names)) == len(DOORS) + 7


def test_json_yaml_and_a_page_without_scripts() -> None:
    client = Client()
    assert client.get("/api/schema").json()["openapi"].startswith("3.")
    assert client.get("/api/schema?format=yaml").content.startswith(b"openapi: 3.")
    page = client.get("/api/docs")
    assert page["Content-Type"].startswith("text/html")
    assert b"POST /api/farms/{farm_id}/events" in page.content
    assert b"&quot;Hillfarm&quot;" in page.content
    assert not re.search(rb"<script|<link|<img|style=|src=", page.content)
    assert "script-src 'self'" in page["Content-Security-Policy"]


def test_an_error_is_described_as_it_comes(ada: Phone) -> None:
    shape = document()["components"]["schemas"]["Failure"]
    answer = ada.client.get(f"/api/farms/{ada.device}/members")
    assert answer.status_code == 404
    assert set(shape["required"]) == set(answer.json())
