"""Who did what outside the log, for the owner to read. Never a password, a code or a token, nor what somebody typed."""

from __future__ import annotations

from typing import Any

from herd.models import Audit, Farm, Membership, Person

LONGEST = 400
PAGE = 50


def audit(farm: Farm | None, person: Person | None, what: str, detail: str = "") -> None:
    """What was done on a farm; without one, by a person: it stands with each farm she is on."""
    farms = [farm.pk] if farm else _farms(person)
    who = person.pk if person else ""
    rows = [Audit(farm_id=one, person=who, what=what, detail=detail[:LONGEST]) for one in farms or [None]]
    Audit.objects.bulk_create(rows)


def _farms(person: Person | None) -> list[Any]:
    return list(Membership.objects.filter(person=person).values_list("farm_id", flat=True)) if person else []


def audit_page(farm: Farm, before: int | None = None, limit: int = PAGE) -> list[dict[str, Any]]:
    """Newest first; `before` is the id of the last row seen."""
    found = Audit.objects.filter(farm=farm).order_by("-id")
    rows = list((found.filter(id__lt=before) if before else found)[:limit])
    # Ids are kept and names put in for reading, so that nobody's name stays here when she is erased.
    named = {row.person for row in rows} | {row.detail.partition(" ")[0] for row in rows}
    names = dict(Person.objects.filter(pk__in=named).values_list("pk", "name"))
    return [
        {
            "id": row.pk,
            "at": int(row.at.timestamp() * 1000),
            "person": row.person,
            "name": names.get(row.person, ""),
            "what": row.what,
            **_told(row.detail, names),
        }
        for row in rows
    ]


def _told(detail: str, names: dict[str, str]) -> dict[str, str]:
    """Whom it was about, and the rest."""
    first, _, rest = detail.partition(" ")
    return {"about": names[first], "detail": rest} if first in names else {"about": "", "detail": detail}
