"""Ada owns the farm, Ben is family, Cleo helps, Dov is a stranger with a farm of his own."""

from __future__ import annotations

from dataclasses import dataclass

from herd.models import Farm, Person
from herd.models.farm import FAMILY, HELPER
from herd.services.make_farm import add_member, make_farm

PASSWORD = "wet gloves at dawn"
ZONE = "Europe/Vienna"


@dataclass(frozen=True)
class People:
    ada: Person
    ben: Person
    cleo: Person
    dov: Person
    farm: Farm
    dovs_farm: Farm


def make_people() -> People:
    ada, ben, cleo, dov = (Person.objects.make(name, PASSWORD) for name in ("Ada", "Ben", "Cleo", "Dov"))
    farm, other = make_farm("Hill", ZONE, ada), make_farm("Valley", ZONE, dov)
    add_member(farm, ben, FAMILY, by=ada)
    add_member(farm, cleo, HELPER, by=ada)
    return People(ada, ben, cleo, dov, farm, other)
