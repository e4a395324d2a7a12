"""A farm's file as a phone sends it to the server."""

from __future__ import annotations

from typing import Any

from tests.people import PASSWORD
from tests.phones import Phone

FILE = "/api/farm-file"


def begin(phone: Phone, size: int, password: str = PASSWORD) -> Any:
    return phone.send(FILE, {"password": password, "bytes": size})


def put(phone: Phone, file: str, number: int, content: bytes) -> Any:
    headers = {"X-CSRFToken": phone.token}
    return phone.client.generic("PUT", f"{FILE}/{file}/parts/{number}", content, "application/zip", headers=headers)


def sent(phone: Phone, whole: bytes) -> str:
    begun = begin(phone, len(whole)).json()
    size = begun["part_bytes"]
    for number in range(-(-len(whole) // size)):
        assert put(phone, begun["file"], number, whole[number * size :][:size]).status_code == 200
    return str(begun["file"])


def take_in(phone: Phone, file: str, **said: Any) -> Any:
    return phone.send(f"{FILE}/{file}/take-in", said)


def code(answer: Any) -> tuple[int, str]:
    return answer.status_code, answer.json().get("code", "")
