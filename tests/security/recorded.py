"""One conversation at each door, from the table of doors: what its owner asks and hears, and what others are told."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from typing import Any

from django.core.cache import caches
from django.utils import timezone

from api.schema.page import document
from herd.models import Person
from herd.services.recovery import new_recovery_code
from tests.people import PASSWORD
from tests.phones import Phone
from tests.security.doors import FARM_DOORS, OWN_DOORS, FarmDoor
from tests.security.test_matrix import asked_of, knock, own_request, undone
from tests.security.world import World

MOST_ROWS, MOST_LETTERS = 2, 400
KIT = {"name": "Kit", "password": "lantern over the gate", "email": "kit@example.org"}
Shape = dict[str, Any]


def recorded(world: World) -> dict[str, Shape]:
    """By the name of the operation. What is no JSON is not written down."""
    found = {name: told for name, told in (*of_farms(world), *of_oneself(world)) if told}
    return dict(sorted(found.items()))


def operation(method: str, route: str) -> Shape:
    path = "/api/" + route.replace("<str:", "{").replace("<int:", "{").replace(">", "}")
    return dict(document()["paths"].get(path, {}).get(method.lower(), {}))


def of_farms(world: World) -> Iterator[tuple[str, Shape]]:
    for door in FARM_DOORS:
        about = operation(door.method, door.route)
        path, body, _ = asked_of(door, world, "owner", "own")
        asks = fuller(about["operationId"], body, about)
        told = conversation(world.phones["owner"], door.method, path, asks)
        yield about["operationId"], {**told, "refused": refusals(world, door, about, asks)}


def of_oneself(world: World) -> Iterator[tuple[str, Shape]]:
    for door in OWN_DOORS:
        if not (about := operation(door.method, door.route)):
            continue
        name = about["operationId"]
        actor = "nobody" if name in ("signIn", "signUp", "recover", "acceptInvitation") else "owner"
        path, body = own_request(door, world, actor, False)
        with undone(world.phones[actor]):
            asks = fuller(name, body, about, world)
            told = conversation(world.phones[actor], door.method, path, asks)
        refused: Shape = {}
        for who, foreign in (("nobody", False), ("owner", door.foreign is not None)):
            other, wrong = own_request(door, world, who, foreign)
            refused |= refusal(world.phones[who], door.method, other, only_asked(wrong, about))
        if isinstance(asks, dict):
            refused |= refusal(world.phones["owner"], door.method, path, {})
            refused |= refusal(world.phones["owner"], door.method, path, {**asks, "password": "a guess"})
        yield name, {**told, **({"refused": refused} if refused else {})}


def refusals(world: World, door: FarmDoor, about: Shape, asks: Any) -> Shape:
    found: Shape = {}
    for actor in ("nobody", "stranger", "helper", "adviser", "removed"):
        path, body, _ = asked_of(door, world, actor, "own")
        found |= refusal(world.phones[actor], door.method, path, only_asked(body, about))
    path, _, _ = asked_of(door, world, "owner", "own")
    if isinstance(asks, dict):
        found |= refusal(world.phones["owner"], door.method, path, {})
        found |= refusal(world.phones["owner"], door.method, path, {**asks, "epoch": 0, "password": "a guess"})
    return found


def conversation(phone: Phone, method: str, path: str, asks: Any) -> Shape:
    caches["worker"].clear()
    token = phone.token
    with undone(phone):
        answer = knock(phone, method, path, asks, token)
        content = b"" if answer.streaming else answer.content
    assert answer.status_code < 300, (method, path, asks, answer.status_code, content)
    kind = answer.headers.get("Content-Type", "")
    said = {"answer": cut(json.loads(content))} if content and "json" in kind else {}
    return {**({"asks": asks} if isinstance(asks, dict) else {}), **said}


def refusal(phone: Phone, method: str, path: str, body: Any) -> Shape:
    token = phone.token
    with undone(phone):
        answer = knock(phone, method, path, body, token)
    said = answer.json() if answer.status_code >= 400 else {}
    return {said["code"]: said} if said else {}


def fuller(name: str, body: Any, about: Shape, world: World | None = None) -> Any:
    """What a table of doors need not say."""
    if name == "invite":
        return {"role": "helper", "whom": "Kit, while we are away", "ends_on": ahead(9)}
    if name == "changeMember":
        return {**body, "starts_on": ahead(2), "ends_on": ahead(9), "pack": ""}
    if world and name == "signIn":
        return {"name": "Ada", "password": PASSWORD}
    if world and name == "signUp":
        return KIT
    if world and name == "recover":
        code = new_recovery_code(Person.objects.get(name="Ada"))
        return {"name": "Ada", "code": code, "password": KIT["password"]}
    if name == "acceptInvitation":
        return {**body, "sign_up": KIT}
    return only_asked(body, about)


def ahead(days: int) -> str:
    return (timezone.now() + timedelta(days=days)).date().isoformat()


def only_asked(body: Any, about: Shape) -> Any:
    """The table's bodies say more than one door takes."""
    if not isinstance(body, dict):
        return body
    content = about.get("requestBody", {}).get("content", {})
    if "application/json" not in content:
        return None
    shape = content["application/json"]["schema"]["$ref"].rpartition("/")[2]
    taken = document()["components"]["schemas"][shape]["properties"]
    return {name: one for name, one in body.items() if name in taken}


def cut(said: Any) -> Any:
    if isinstance(said, list):
        return [cut(one) for one in said[:MOST_ROWS]]
    if isinstance(said, dict):
        return {name: cut(one) for name, one in said.items()}
    return said[:MOST_LETTERS] + "…" if isinstance(said, str) and len(said) > MOST_LETTERS else said
