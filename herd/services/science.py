"""The only door from the services to the compiler: imported late, because numpy is not needed to take an entry in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from herd.outlook.shapes import Book, HerdCard, Outlook


def science_version() -> str:
    """The version compiled outlooks name."""
    from herd.science import VERSION

    return VERSION


def compile_doe(doe_view: Mapping[str, Any], rules: Mapping[str, Any], today: date, doe_id: str) -> Outlook:
    from herd.outlook import compile as compiler

    return compiler.compile_doe(doe_view, rules, today, doe_id)


def compile_card(view: Mapping[str, Any], today: date) -> HerdCard | None:
    from herd.outlook import book
    from herd.outlook.card import document

    return document.compile_card(view, book.compile_book(view), today.isoformat())


def compile_book(view: Mapping[str, Any]) -> Book:
    from herd.outlook import book

    return book.compile_book(view)
