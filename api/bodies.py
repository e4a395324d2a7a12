"""Small JSON bodies. What would break further in is refused here: endless nesting, and text no database can hold."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import IO, Any

from rest_framework import serializers
from rest_framework.parsers import JSONParser
from rest_framework.request import Request

from .errors import UNREADABLE, ApiError

DEEPEST = 20


class PlainJSON(JSONParser):
    def parse(
        self, stream: IO[Any], media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        return plain_json(stream.read())


def plain_json(body: bytes) -> Any:
    try:
        found = json.loads(body.decode(), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise ApiError(*UNREADABLE) from error
    _check(found, 0)
    return found


def _no_number(name: str) -> Any:
    raise ValueError(name)


def _check(value: Any, depth: int) -> None:
    if depth > DEEPEST:
        raise ApiError(*UNREADABLE)
    if isinstance(value, str):
        _check_text(value)
    elif isinstance(value, list):
        for one in value:
            _check(one, depth + 1)
    elif isinstance(value, dict):
        for key, one in value.items():
            _check_text(key)
            _check(one, depth + 1)


def _check_text(value: str) -> None:
    """Half a character has no bytes, and PostgreSQL keeps no NUL."""
    if "\0" in value or any(0xD800 <= ord(letter) <= 0xDFFF for letter in value):
        raise ApiError(*UNREADABLE)


class Text(serializers.CharField):
    """A text, and not a number that could be read as one. Blanks at its ends go, of a password too: phones put one
    behind a word, and allauth's own doors take them off."""

    def to_internal_value(self, data: Any) -> str:
        if not isinstance(data, str):
            self.fail("invalid")
        return str(super().to_internal_value(data))


# What a client sends. A view hands it to `checked`; what is not named here is not read. No docstring: the schema would
# say it of each of them.
class Body(serializers.Serializer[Any]):
    pass


def checked(kind: type[Body], request: Request) -> dict[str, Any]:
    made = kind(data=request.data if isinstance(request.data, dict) else {})
    made.is_valid(raise_exception=True)
    return dict(made.validated_data)
