"""Does of every breed and state as the fold leaves them: between them they read nearly every number of a need."""

from __future__ import annotations

from typing import Any

from herd.outlook.codes import BREEDS
from tests.support.compiled import aged, ago, bred, folded, fresh, marked, scanned, scored, served, weighed

MINIATURE = ("nigerian_dwarf", "pygmy", "mini_cross")


def size_of(breed: str) -> str:
    return "mini" if breed in MINIATURE else "standard"


def about(breed: str, kiddings: int, **more: Any) -> dict[str, Any]:
    return {"size": size_of(breed), "breed": breed, "kiddings_before": kiddings, **more}


def of_breeds() -> list[dict[str, Any]]:
    """By class alone, so that the breed's own weight, milk and dates count."""
    does = []
    for breed in BREEDS:
        does.append(folded(about(breed, 2), bred=bred(120), check=scanned(2)))
        does.append(folded(about(breed, 3), kidded=fresh(40), kiddings=1))
    for size in ("mini", "standard"):
        does.append(folded({"size": size, "kiddings_before": 2}, kidded=fresh(60, 1), kiddings=1, bred=bred(10)))
    return does


def carrying() -> list[dict[str, Any]]:
    does = []
    for breed, kg in (("alpine", 60), ("nigerian_dwarf", 32), ("pygmy", 27)):
        for kids in (0, 1, 2, 3, 4):
            check = scanned(kids) if kids else None
            does.append(folded(about(breed, 2), bred=bred(128), check=check, weights=weighed(kg), scores=scored(250)))
        does.append(folded(about(breed, 0, born_on=ago(500)), bred=bred(100, 30), weights=weighed(0.7 * kg, 5, "tape")))
        does.append(folded(about(breed, 0), bred=bred(90), check=scanned(1)))
        does.append(folded(about(breed, 1), bred=bred(60, 45), weights=weighed(1.1 * kg, 10), scores=scored(425)))
        does.append(folded(about(breed, 2), bred=bred(141), check=scanned(3), weights=weighed(kg), scores=scored(175)))
    return does


def dated() -> list[dict[str, Any]]:
    """Does whose days are told by more than a service: a mark, a heat that came back, a scan, kiddings before."""
    does = []
    for breed in ("alpine", "pygmy"):
        about_her = about(breed, 2)
        for along in (45, 70, 100):
            does.append(folded(about_her, bred=bred(110, 30), checks=[aged(along, 95 - along)], check=scanned(2)))
        does.append(folded(about_her, bred=bred(60, 30), heats=[marked(50), marked(31, "flagging")]))
        again = {"services": [served(82), served(61)], "bred": bred(61), "heats": [marked(61, "standing")]}
        does.append(folded(about_her, **again))
        before = [{"from": ago(d), "to": ago(d), "on": ago(d - 154), "ev": "k"} for d in (1250, 890, 520)]
        does.append(folded(about_her, bred=bred(120), gestations=before))
    return does


def milking() -> list[dict[str, Any]]:
    does = []
    for breed, kg, g in (("saanen", 66, 3500), ("nigerian_dwarf", 32, 1200), ("unknown", 58, 1800)):
        milks = [[ago(day), g - 5 * (90 - day), "morning", 0, "m"] for day in range(89, 1, -8)]
        state = {"kidded": fresh(100, 3), "kiddings": 3, "weights": weighed(kg)}
        does.append(folded(about(breed, 2), **state, milks=milks))
        does.append(folded(about(breed, 2), **state, milks=milks[-2:], bred=bred(60)))
        does.append(folded(about(breed, 0), kidded=fresh(20, 1), kiddings=1, bred=None))
        does.append(folded(about(breed, 2), milks=[[ago(2), g, "morning", 0, "m"]]))
        does.append(folded(about(breed, 2), kidded=fresh(820, 2), kiddings=1, weights=weighed(kg)))
        does.append(folded(about(breed, 2), kidded=fresh(5, 3), kiddings=3, weights=weighed(kg)))
    return does


def open_does() -> list[dict[str, Any]]:
    young = {"born_on": ago(250), "growing": True}
    tape = [*weighed(55, 100), *weighed(60, 5, "tape")]
    return [
        folded(about("alpine", 2), weights=weighed(60)),
        folded(about("alpine", 0, **young), weights=weighed(30, 20)),
        folded(about("alpine", 0, **young)),
        folded(about("boer", 1, keeper="easy"), weights=tape),
        folded(about("alpine", 1, born_on=ago(700)), weights=weighed(57)),
        folded({"size": "standard"}, weights=weighed(60)),
        folded({"size": "mini", "born_on": ago(720)}, weights=weighed(29)),
    ]


def many_does() -> list[dict[str, Any]]:
    return [*of_breeds(), *carrying(), *dated(), *milking(), *open_does()]
