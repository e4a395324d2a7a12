"""Whom and what a command is told by name."""

from __future__ import annotations

from django.core.management.base import CommandError

from herd.models import Farm, Person
from herd.services.names import as_typed


def farm_of(wanted: str) -> Farm:
    found = list(Farm.objects.filter(pk=wanted)) or list(Farm.objects.filter(name__iexact=as_typed(wanted)))
    if len(found) != 1:
        raise CommandError("There is no such farm." if not found else "Several farms have that name: give the id.")
    return found[0]


def person_of(name: str) -> Person:
    person = Person.objects.filter(name__iexact=as_typed(name)).first()
    if person is None:
        raise CommandError("Nobody has that name.")
    return person
