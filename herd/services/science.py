"""The only door from the services to the compiler: imported late, because numpy is not needed to take an entry in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from hashlib import sha256
from pathlib import Path
from typing import Any

from herd.outlook.shapes import Book, HerdCard, Outlook, YearsDoc

HERD = Path(__file__).parents[1]
TABLES = {".toml", ".csv"}


@cache
def science_version() -> str:
    """What compiled documents are kept under: the version and a mark of its numbers."""
    from herd.science import VERSION

    return f"{VERSION}-{numbers_mark(HERD)}"


def numbers_mark(herd: Path) -> str:
    """Of every number documents are made from: one that was changed reaches each farm with the next compiling."""
    tables = [path for room in ("science", "outlook") for path in (herd / room).rglob("*") if path.suffix in TABLES]
    return sha256(b"\0".join(path.read_bytes() for path in sorted(tables))).hexdigest()[:8]


def compile_doe(
    doe_view: Mapping[str, Any],
    rules: Mapping[str, Any],
    today: date,
    doe_id: str,
    years: Mapping[str, Any] | None = None,
) -> Outlook:
    """`years`: the document of the farm's years, whose lengths of gestation count where they are enough."""
    from herd.outlook import compile as compiler
    from herd.outlook.learned import learned_of

    return compiler.compile_doe(doe_view, rules, today, doe_id, learned_of(years))


def compile_card(view: Mapping[str, Any], today: date) -> HerdCard | None:
    from herd.outlook import book
    from herd.outlook.card import document

    return document.compile_card(view, book.compile_book(view), today.isoformat())


def compile_book(view: Mapping[str, Any], years: Mapping[str, Any] | None = None) -> Book:
    """`years`: whose timings of signs count where they are enough."""
    from herd.outlook import book
    from herd.outlook.learned import learned_of

    return book.compile_book(view, learned_of(years))


def compile_years(view: Mapping[str, Any], seasons: list[Any], kiddings: list[Any], today: date) -> YearsDoc:
    from herd.outlook.years import document, leads, lengths

    does = view["does"]
    signs = leads.figures(does, kiddings)
    return document.years_document(view, seasons, signs, lengths.lengths(does, kiddings), today.isoformat())
