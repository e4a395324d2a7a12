"""A phone for server tests: makes envelopes as the client does, and pushes and pulls over HTTP."""

from __future__ import annotations

import json
import time
import uuid
from datetime import UTC, datetime
from itertools import count
from typing import Any
from zoneinfo import ZoneInfo

from django.test import Client

from herd.models import Farm, Person
from tests.people import PASSWORD, ZONE

_ticks = count(1)


def new_id() -> str:
    return str(uuid.uuid4())


def now_ms() -> int:
    return time.time_ns() // 1_000_000


class Phone:
    """`fast_ms` is how far the phone's clock runs ahead; `at_ms` fixes it altogether."""

    def __init__(self, farm: Farm, person: Person, *, fast_ms: int = 0, device: str = "") -> None:
        self.farm, self.person, self.fast_ms = farm, person, fast_ms
        self.device = device or new_id()
        self.client = Client(enforce_csrf_checks=True)
        self.epoch, self.seq, self.outlook_rev = farm.epoch, 0, 0

    def sign_in(self, password: str = PASSWORD) -> Phone:
        token = self.client.get("/api/session").json()["csrf"]
        answer = self.send("/api/session", {"name": self.person.name, "password": password}, token=token)
        assert answer.status_code == 200, answer.content
        return self

    @property
    def token(self) -> str:
        return str(self.client.get("/api/session").json()["csrf"])

    def ask(self, method: str, path: str, body: Any = None) -> Any:
        data = b"" if body is None else json.dumps(body).encode()
        headers = {"X-CSRFToken": self.token}
        return self.client.generic(method, path, data, content_type="application/json", headers=headers)

    def send(self, path: str, body: Any, *, token: str | None = None, **headers: Any) -> Any:
        data = body if isinstance(body, bytes) else json.dumps(body).encode()
        token = self.token if token is None else token
        return self.client.post(path, data, content_type="application/json", headers={"X-CSRFToken": token, **headers})

    def event(self, kind: str, subject: str, data: dict[str, Any], **other: Any) -> dict[str, Any]:
        happened = other.pop("happened", now_ms() + self.fast_ms)
        stamp = f"{happened:012x}-{next(_ticks) % 65536:04x}-{self.device[:8]}"
        made = {
            "id": new_id(),
            "kind": kind,
            "v": 2 if kind == "weight" else 1,
            "subject": subject,
            "on": datetime.fromtimestamp(happened / 1000, UTC).astimezone(ZoneInfo(ZONE)).date().isoformat(),
            "slot": "",
            "happened": happened,
            "entered": happened,
            "hlc": stamp,
            "author": self.person.pk,
            "device": self.device,
            "data": data,
        }
        return {**made, **other}

    def record(self, kind: str, subject: str, fields: dict[str, Any], **base: str) -> dict[str, Any]:
        return self.event(kind, subject, {"f": fields, "base": {field: base.get(field, "") for field in fields}})

    def body(self, events: list[Any], **other: Any) -> dict[str, Any]:
        cursor = {"seq": self.seq, "outlook_rev": self.outlook_rev}
        now = now_ms() + self.fast_ms
        made = {"device": self.device, "app": "0.1.0", "schema": 1, "epoch": self.epoch, "now": now, "cursor": cursor}
        return {**made, "events": events, **other}

    def push_raw(self, body: Any, **headers: Any) -> Any:
        return self.send(f"/api/farms/{self.farm.id}/events", body, **headers)

    def push(self, *events: Any) -> list[dict[str, Any]]:
        answer = self.push_raw(self.body(list(events)))
        assert answer.status_code == 200, answer.content
        return list(answer.json()["answers"])

    def get(self, what: str, **query: Any) -> Any:
        return self.client.get(f"/api/farms/{self.farm.id}/{what}", query)


def states(answers: list[dict[str, Any]]) -> list[str]:
    return [answer["st"] for answer in answers]
