"""The year's tasks of a farm, as a phone lists them: asked of the client's own code in the embedded engine."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any

from herd.models import Farm, Folded
from herd.outlook.evaluate import FarmDay
from herd.outlook.rules import rules_of

from .calendar_words import say
from .wire import decode

TO_DO = ("open", "moved")


def does_of(farm: Farm) -> dict[str, Any]:
    """As they are kept folded."""
    rows = Folded.objects.filter(farm=farm, kind="doe").values_list("subject", "json")
    return {subject: decode(doc) for subject, doc in rows}


def tasks_of(
    view: Mapping[str, Any], outlooks: Mapping[str, Mapping[str, Any]], today: date, span: tuple[date, date]
) -> list[dict[str, Any]]:
    """What is to be done between two days and can be given a date; of outlooks only her dates are looked at."""
    dated = {doe: {"due": doc.get("due"), "basis": doc["basis"]} for doe, doc in outlooks.items() if "basis" in doc}
    book = {"rules": rules_of(view["rules"]["f"]), "feeds": {}}
    found = FarmDay(view, dated, book, today.isoformat()).ask("tasks", *(on.isoformat() for on in span))
    return [task for task in found if task["state"] in TO_DO and not task["loose"]]


def name_of(view: Mapping[str, Any], language: str, subject: str) -> str:
    """Of a doe, or of a kid by its dam; nothing of the herd."""
    kid = view["kids"].get(subject)
    if not kid:
        return str(view["does"][subject]["f"].get("name", "")) if subject in view["does"] else ""
    dam = view["does"].get(kid["f"].get("dam"), {"f": {}})
    named = kid["f"].get("name") or say(language, "kid.one", n=kid["f"].get("n", 1), dam=dam["f"].get("name", ""))
    return str(named)
