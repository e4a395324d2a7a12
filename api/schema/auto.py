"""The schema as drf-spectacular writes it, from our table of doors."""

from __future__ import annotations

from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.utils import OpenApiResponse

from . import answers
from .examples import with_examples
from .sync import PATHS, SHAPES


class DoorSchema(AutoSchema):
    @property
    def door(self) -> Any:
        # What REST framework asks for at import must not wait for our views.
        from .doors import DOORS

        return DOORS[(self.method, self.path)]

    def get_operation_id(self) -> str:
        return str(self.door.name)

    def get_tags(self) -> list[str]:
        return [self.path.split("/")[2]]

    def get_override_parameters(self) -> list[Any]:
        return list(self.door.query)

    def get_request_serializer(self) -> Any:
        view: Any = self.view
        return view.takes.get(self.method)

    def get_response_serializers(self) -> Any:
        door = self.door
        went_well = OpenApiResponse(door.answer) if door.answer else OpenApiResponse(description="Done.")
        kind = (door.status, "application/zip") if door.name == "exportFarm" else door.status
        return {kind: went_well, "4XX": OpenApiResponse(answers.Failure, description="Refused, and why.")}


def with_sync(result: dict[str, Any], **_: Any) -> dict[str, Any]:
    """Push, pull and pictures are plain views; so are they described by hand."""
    result["paths"] = dict(sorted({**result["paths"], **PATHS}.items()))
    result["components"]["schemas"] |= SHAPES
    busy = {"description": "Too much at once: wait as long as Retry-After says."}
    for path in result["paths"].values():
        for operation in path.values():
            operation["responses"].setdefault("503", busy)
    return with_examples(result)
