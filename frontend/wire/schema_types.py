"""Shapes of an OpenAPI document as TypeScript, and its operations as one table of types."""

from __future__ import annotations

import json
import re
from typing import Any

Shape = dict[str, Any]
HEAD = "// Written by frontend/wire from /api/schema. Change it in api/schema.\n"
PLAIN = {"string": "string", "integer": "number", "number": "number", "boolean": "boolean"}
METHODS = ("get", "post", "put", "patch", "delete")
DOORS = """
/** Each operation by its name. The path carries a question where the operation may be asked one. */
export interface Doors {
"""


def module(document: Shape) -> str:
    shapes = (declared(name, shape) for name, shape in sorted(document["components"]["schemas"].items()))
    doors = (
        door(method, path, methods[method])
        for path, methods in document["paths"].items()
        for method in METHODS
        if method in methods
    )
    return "".join([HEAD, *shapes, DOORS, *doors, "}\n"])


def declared(name: str, shape: Shape) -> str:
    told = said(shape.get("description", ""), "")
    if shape.get("type") == "object" and not shape.get("nullable"):
        return f"{told}export interface {name} {record(shape, '')}\n"
    return f"{told}export type {name} = {type_of(shape)};\n"


def said(text: str, indent: str) -> str:
    return f"{indent}/** {' '.join(text.replace('*/', '').split())} */\n" if text else ""


def type_of(shape: Shape, indent: str = "") -> str:
    made = bare(shape, indent)
    return f"{made} | null" if shape.get("nullable") else made


def bare(shape: Shape, indent: str) -> str:
    if "$ref" in shape:
        return str(shape["$ref"].rpartition("/")[2])
    if "allOf" in shape:
        return " & ".join(type_of(one, indent) for one in shape["allOf"])
    if "enum" in shape:
        return " | ".join(map(json.dumps, shape["enum"]))
    kind = shape.get("type")
    if kind == "array":
        inner = type_of(shape["items"], indent)
        return f"{inner}[]" if inner.isidentifier() else f"({inner})[]"
    if kind == "object":
        return record(shape, indent)
    if shape.get("format") == "binary":
        return "Blob"
    return PLAIN[kind] if kind else "unknown"


def record(shape: Shape, indent: str) -> str:
    inner, needed = f"{indent}  ", shape.get("required", ())
    lines = [
        f"{said(one.get('description', ''), inner)}{inner}{key(name)}{'' if name in needed else '?'}:"
        f" {type_of(one, inner)};\n"
        for name, one in shape.get("properties", {}).items()
    ]
    if "additionalProperties" in shape:
        rest = "unknown" if lines else type_of(shape["additionalProperties"], inner)
        lines.append(f"{inner}[more: string]: {rest};\n")
    return f"{{\n{''.join(lines)}{indent}}}"


def key(name: str) -> str:
    return name if name.isidentifier() else json.dumps(name)


def door(method: str, path: str, operation: Shape) -> str:
    went_well = next(answer for status, answer in operation["responses"].items() if status.startswith("2"))
    parts = {
        "method": json.dumps(method.upper()),
        "path": address(path, operation),
        "takes": content(operation.get("requestBody", {}), "undefined"),
        "answer": content(went_well, "null"),
    }
    told = said(operation.get("description", ""), "  ")
    return f"{told}  {operation['operationId']}: {{ {'; '.join(f'{name}: {of}' for name, of in parts.items())} }};\n"


def address(path: str, operation: Shape) -> str:
    kinds = {one["name"]: type_of(one["schema"]) for one in operation.get("parameters", ()) if one["in"] == "path"}
    filled = re.sub(r"\{(\w+)\}", lambda found: f"${{{kinds[found[1]]}}}", path)
    asked = any(one["in"] == "query" for one in operation.get("parameters", ()))
    return f"`{filled}` | `{filled}?${{string}}`" if asked else f"`{filled}`"


def content(body: Shape, nothing: str) -> str:
    kinds = {type_of(one["schema"], "  ") for one in body.get("content", {}).values()}
    return " | ".join(sorted(kinds)) or nothing
