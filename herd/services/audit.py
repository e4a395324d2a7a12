"""Who changed what outside the log. Never a secret, and ids in place of names where an id will do."""

from __future__ import annotations

from herd.models import Audit, Farm, Person

MOST = 400


def audit(farm: Farm | None, person: Person | None, what: str, detail: str = "") -> None:
    Audit.objects.create(farm=farm, person=person.pk if person else "", what=what, detail=detail[:MOST])
