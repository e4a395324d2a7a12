"""A numpydoc docstring taken apart into what a reader wants."""

from __future__ import annotations

import ast
import inspect
import re
from typing import Any

UNDERLINE = re.compile(r"^-{3,}$", re.M)
ARGUMENT = re.compile(
    r"^(?P<names>[\w, ]+?) : (?P<shape>[^\[\]]*?)(?:\[(?P<unit>[^\]]+)\])?"
    r"(?:, (?P<range>[-\d][^;]*))?(?:; (?P<note>.*))?$"
)
# "scalar [kids] counted, 0 when nobody has": the shape is no matter of a reader's
TYPED = re.compile(r"^(?:scalar|1-D)[^\[\]]*\[(?P<unit>[^\]]+)\],? ?(?P<note>.*)$")
EQUATION = re.compile(r"Equation: (.*?)(?=\n\n|\Z)", re.S)


def told(node: ast.FunctionDef, of_module: str) -> dict[str, Any]:
    """say, eq, args [[name, unit, range, note]], gives, valid, accuracy, refs. Empty parts are left out."""
    text = inspect.cleandoc(ast.get_docstring(node) or "")
    parts = sections(text)
    equation = EQUATION.search(parts[""])
    more = EQUATION.sub("", parts[""]).strip()
    refs = parts.get("References") or plain(of_module, "References")
    entry: dict[str, Any] = {
        "say": flat(more),
        "eq": flat(equation.group(1)) if equation else "",
        "args": [argument(line) for line in joined(parts.get("Parameters", ""))],
        "gives": unit(parts.get("Returns", "")) or unit(more),
        "valid": flat(parts.get("Validity", "") or plain(of_module, "Validity")),
        "accuracy": flat(parts.get("Accuracy", "")),
        "refs": flat(refs),
    }
    return {key: value for key, value in entry.items() if value}


def sections(text: str) -> dict[str, str]:
    """{heading: its lines}; what comes before the first heading stands under ""."""
    lines, found, at = text.split("\n"), {"": ""}, ""
    for k, line in enumerate(lines):
        if UNDERLINE.match(line):
            continue
        if k + 1 < len(lines) and UNDERLINE.match(lines[k + 1]):
            at = line.strip()
            found[at] = ""
        else:
            found[at] += line + "\n"
    return {heading: body.strip() for heading, body in found.items()}


def joined(body: str) -> list[str]:
    """One line per argument: deeper lines go on from the one above."""
    lines: list[str] = []
    for line in filter(str.strip, body.split("\n")):
        if line.startswith(" ") and lines:
            lines[-1] += " " + line.strip()
        else:
            lines.append(line.strip())
    return lines


def argument(line: str) -> list[str]:
    found = ARGUMENT.match(line)
    if not found:
        name, _, note = line.partition(" : ")
        typed = TYPED.match(note)
        return [name, typed["unit"], "", typed["note"] or ""] if typed else [name, "", "", note]
    shape = found["shape"].strip(" ,")
    note = found["note"] or ("" if shape.startswith(("scalar", "1-D")) else shape)
    return [found["names"], found["unit"] or "", (found["range"] or "").strip(), note]


def unit(text: str) -> str:
    found = re.search(r"\[([^\]]+)\]", text)
    return found.group(1) if found else ""


def plain(of_module: str, heading: str) -> str:
    """Some modules say it once for all their functions, as "References: ..." to the end of the sentence."""
    found = re.search(rf"{heading}: (.+?)(?:\.\s+(?=[A-Z])|\.?\Z)", of_module, re.S)
    return flat(found.group(1)).replace(" in sources.toml", "").replace(" and ", "; ") if found else ""


def flat(text: str) -> str:
    return re.sub(r"\s+", " ", text).strip()
