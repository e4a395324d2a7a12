"""The schema, and a page of it for people: without a script, as the policy of every page asks."""

from __future__ import annotations

import json
from functools import cache
from typing import Any

import yaml
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.html import format_html, format_html_join
from django.views.decorators.http import require_GET
from drf_spectacular.generators import SchemaGenerator

METHODS = ("get", "post", "put", "patch", "delete")


@cache
def document() -> dict[str, Any]:
    made: Any = SchemaGenerator
    return dict(made().get_schema(request=None, public=True))


@require_GET
def schema(request: HttpRequest) -> HttpResponse:
    """JSON, or YAML for `?format=yaml`."""
    if request.GET.get("format") == "yaml":
        text = yaml.safe_dump(document(), sort_keys=False, allow_unicode=True)
        return HttpResponse(text, content_type="application/vnd.oai.openapi; charset=utf-8")
    return JsonResponse(document())


@require_GET
def docs(request: HttpRequest) -> HttpResponse:
    found = document()
    doors = [
        (method.upper(), path, operation)
        for path, methods in found["paths"].items()
        for method, operation in methods.items()
        if method in METHODS
    ]
    rows = format_html_join("\n", "<h2>{} {}</h2><p>{}</p><dl>{}</dl>", ((m, p, *told(one)) for m, p, one in doors))
    head = '<!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width">'
    page = "{}<title>{}</title><h1>{}</h1><p>{}</p>{}</html>"
    info = found["info"]
    return HttpResponse(format_html(page, format_html(head + "{}", ""), info["title"], info["title"],
                                    info["description"], rows))  # fmt: skip


def told(operation: dict[str, Any]) -> tuple[str, str]:
    facts = [("Name", operation["operationId"])]
    facts += [("Asks", f"{one['name']} ({one['in']})") for one in operation.get("parameters", [])]
    facts += [("Takes", shown(operation["requestBody"]))] if "requestBody" in operation else []
    facts += [(f"Answers {status}", shown(one)) for status, one in operation["responses"].items()]
    return operation.get("description", ""), format_html_join("", "<dt>{}</dt><dd>{}</dd>", facts)


def shown(part: dict[str, Any]) -> str:
    """Its kind, and beneath it what was once said so; of refusals the first, and the codes of all."""
    content = part.get("content", {}).get("application/json", {})
    several = {code: one["value"] for code, one in content.get("examples", {}).items()}
    example = content.get("example", next(iter(several.values()), None))
    if example is None:
        return kind_of(part)
    text = json.dumps(example, ensure_ascii=False, indent=1)
    return format_html("{}<pre>{}</pre>{}", kind_of(part), text, ", ".join(several))


def kind_of(part: dict[str, Any]) -> str:
    kinds = part.get("content", {}).items()
    named = [f"{one['schema'].get('$ref', kind).rpartition('/')[2]} ({kind})" for kind, one in kinds]
    return ", ".join(named) or part.get("description", "")
