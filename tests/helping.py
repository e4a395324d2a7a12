"""The owner and a helper on one farm: what each sends, and what phones are told."""

from __future__ import annotations

from typing import Any

from herd.models import Farm
from herd.models.farm import HELPER, OWNER
from herd.services.changes import Cursor, changes
from herd.state.fold import View, fold
from tests.logs import record, replayed
from tests.phones import Phone

NOT_ALLOWED = "not_allowed"
TREATED = {
    "product": "wormer",
    "told": "",
    "why": "",
    "who": "vet",
    "milk_until": "2026-12-31",
    "meat_until": "",
    "carries": [],
}
LOOK = {"fill": 2, "uneven": False}


def helped(phone: Phone, *events: Any) -> list[dict[str, Any]]:
    return record(phone, *events, role=HELPER)


def sent(phones: tuple[Phone, Phone], event: dict[str, Any]) -> dict[str, Any]:
    """By whoever recorded it: the owner, or the helper."""
    ada, cleo = phones
    own = event["author"] == ada.person.pk
    return record(ada if own else cleo, event, role=OWNER if own else HELPER)[0]


def view(phone: Phone) -> View:
    return fold(replayed(phone.farm, fold_status="ok"))


def told(phone: Phone, seq: int, rev: int) -> list[dict[str, Any]]:
    return list(changes(Farm.objects.get(pk=phone.farm.pk), Cursor(seq, rev)).get("again", []))
