"""Each door, each method, each of those who knock, at her own farm, at another's, with another's child, at none."""

from __future__ import annotations

import copy
import io
import json
import zipfile
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product
from typing import Any

import pytest
from django.db import transaction
from django.urls import URLPattern, URLResolver, get_resolver

from tests.phones import Phone, new_id
from tests.security.doors import (
    ALLAUTH,
    FARM_DOORS,
    METHODS,
    OPEN,
    OWN_DOORS,
    SHUT,
    SIGNED_IN,
    TARGETS,
    YES,
    FarmDoor,
    OwnDoor,
)
from tests.security.world import ACTORS, Children, World, digest_of

CODES = {401: {"sign_in"}, 404: {"not_found"}, 403: {"not_allowed", "removed"}}
# The Valley is theirs as well.
HERS_TOO = ("stranger", "both")
GONE = ("ended", "removed")
# The client's one page takes every other address; tests/house looks at it.
PAGE = "^(?!api/|assets/).*$"
# Nothing is behind it.
CLOSED = "api/^auth/browser/v1/(?:account|auth)/phone"


def routes(patterns: list[Any], above: str = "") -> Iterator[str]:
    for one in patterns:
        named = above + str(one.pattern)
        if isinstance(one, URLResolver):
            yield from routes(one.url_patterns, named)
        elif isinstance(one, URLPattern):
            yield named


def known() -> set[str]:
    ours = {door.route for door in (*FARM_DOORS, *OWN_DOORS)}
    return {
        PAGE,
        CLOSED,
        *(f"api/{route}" for route in (*ours, *(ALLAUTH + one for one in (*OPEN, *SIGNED_IN, *SHUT)))),
    }


@contextmanager
def undone(phone: Phone) -> Iterator[None]:
    """What is done within leaves no row and no cookie behind."""
    cookies = copy.deepcopy(phone.client.cookies)
    with transaction.atomic():
        yield
        transaction.set_rollback(True)
    phone.client.cookies = cookies


def knock(phone: Phone, method: str, path: str, body: Any, token: str) -> Any:
    data = body if isinstance(body, bytes) else b"" if body is None else json.dumps(body).encode()
    kind = "image/jpeg" if isinstance(body, bytes) else "application/json"
    return phone.client.generic(method, path, data, content_type=kind, headers={"X-CSRFToken": token})


def read(answer: Any) -> str:
    if not answer.streaming:
        return str(answer.content.decode(errors="replace"))
    with zipfile.ZipFile(io.BytesIO(b"".join(answer.streaming_content))) as packed:
        return "\n".join(packed.read(name).decode(errors="replace") for name in packed.namelist())


def asked_of(door: FarmDoor, world: World, actor: str, target: str) -> tuple[str, Any, Children]:
    farm = world.farm(target)
    child = world.valley if target in ("foreign", "other") else world.hill
    path = "/api/" + door.route.replace("<str:farm_id>", new_id() if target == "nowhere" else farm.farm.id)
    for name, value in (
        ("<str:invitation>", child.invitation),
        ("<str:person>", child.person),
        ("<str:person_id>", child.person),
        ("<int:row>", str(child.row)),
        ("<str:sha256>", child.sha256),
    ):
        path = path.replace(name, value)
    phone = world.phones[actor]
    return path + door.query(phone, farm, child), door.body(phone, farm, child), farm


def expected(door: FarmDoor, actor: str, target: str) -> int:
    if actor == "nobody":
        return 401
    if target == "nowhere":
        return 404
    if target == "other":
        return door.yes if actor in ("stranger", "both") else 404
    said = door.who[ACTORS.index(actor)]
    if said != YES:
        return said
    return door.foreign if target == "foreign" and door.foreign is not None else door.yes


def strange_to(world: World, actor: str) -> set[str]:
    """What must not be in an answer to this actor, whatever was asked."""
    if actor == "both":
        return set()
    if actor == "stranger":
        return world.hill.marks()
    if actor == "nobody" or actor in GONE:
        return world.hill.marks() | world.valley.marks()
    return world.valley.marks()


def test_every_route_of_the_resolver_has_a_row() -> None:
    assert set(routes(get_resolver().url_patterns)) == known()
    cells = [(door, actor, target) for door in FARM_DOORS for actor in ACTORS for target in targets(door)]
    own = sum(len(ACTORS) + (len(ACTORS) - 1) * (door.foreign is not None) for door in OWN_DOORS)
    at_allauth = len((*OPEN, *SIGNED_IN, *SHUT)) * len(METHODS) * 2
    print(
        f"\nmatrix: {len(known())} routes; of a farm {len(FARM_DOORS)} doors, {len(cells)} cells;"
        f" of oneself {len(OWN_DOORS)} doors, {own} cells; of allauth {at_allauth} cells;"
        f" methods nobody named {len(unnamed())}"
    )


def digests(world: World, audit: bool) -> tuple[str, str]:
    return digest_of(world.hill.farm, audit=audit), digest_of(world.valley.farm, audit=audit)


def targets(door: FarmDoor) -> tuple[str, ...]:
    return tuple(one for one in TARGETS if one != "foreign" or door.foreign is not None)


@pytest.mark.slow
def test_the_doors_of_a_farm(world: World) -> None:
    before = {audit: digests(world, audit) for audit in (True, False)}
    tokens = {actor: world.phones[actor].token for actor in ACTORS}
    wrong = [
        f"{door.method} {door.route}, {actor} at {target}: {found}"
        for door in FARM_DOORS
        for actor in ACTORS
        for target in targets(door)
        for found in faults(world, door, actor, target, tokens[actor], before[actor not in HERS_TOO])
    ]
    assert not wrong, "\n".join(wrong)


def faults(world: World, door: FarmDoor, actor: str, target: str, token: str, before: tuple[str, str]) -> Iterator[str]:
    phone = world.phones[actor]
    path, body, _ = asked_of(door, world, actor, target)
    with undone(phone):
        answer = knock(phone, door.method, path, body, token)
        said, status, should = read(answer), answer.status_code, expected(door, actor, target)
        after = digests(world, actor not in HERS_TOO)
    if status != should:
        yield f"{status} for {should}, {said[:200]}"
    if should in CODES and should != door.yes and not any(f'"{code}"' in said for code in CODES[should]):
        yield said[:200]
    sent = path + (json.dumps(body) if not isinstance(body, bytes) else "")
    if found := [one for one in strange_to(world, actor) if one in said and one not in sent]:
        yield f"reads {found}"
    untouched = slice(0, 2) if status >= 400 else slice(0, 1) if target == "other" else slice(1, 2)
    if after[untouched] != before[untouched]:
        yield "rows have changed"


def test_another_farm_and_none_at_all_say_the_same(world: World) -> None:
    for actor in ("owner", "helper", "removed"):
        phone = world.phones[actor]
        token = phone.token
        for door in FARM_DOORS:
            said = []
            for target in ("other", "nowhere"):
                with undone(phone):
                    path, body, _ = asked_of(door, world, actor, target)
                    said.append(knock(phone, door.method, path, body, token).content)
            assert said[0] == said[1], (actor, door.method, door.route)


@pytest.mark.slow
def test_the_doors_about_oneself(world: World) -> None:
    valley = {audit: digest_of(world.valley.farm, audit=audit) for audit in (True, False)}
    hers = world.victim.state()
    tokens = {actor: world.phones[actor].token for actor in ACTORS}
    wrong = [
        f"{door.method} {door.route}, {actor}, foreign {foreign}: {found}"
        for door in OWN_DOORS
        for actor in ACTORS
        for foreign in ((False, True) if door.foreign is not None and actor != "nobody" else (False,))
        for found in own_faults(world, door, actor, foreign, tokens[actor], (valley[actor not in HERS_TOO], hers))
    ]
    assert not wrong, "\n".join(wrong)


def own_faults(
    world: World, door: OwnDoor, actor: str, foreign: bool, token: str, before: tuple[str, str]
) -> Iterator[str]:
    phone = world.phones[actor]
    path, body = own_request(door, world, actor, foreign)
    with undone(phone):
        answer = knock(phone, door.method, path, body, token)
        said = read(answer)
        after = digest_of(world.valley.farm, audit=actor not in HERS_TOO), world.victim.state()
    should = door.nobody if actor == "nobody" else dict(door.but).get(actor, door.yes)
    should = door.foreign if foreign and door.foreign is not None else should
    if answer.status_code != should:
        yield f"{answer.status_code} for {should}, {said[:200]}"
    if actor not in HERS_TOO and any(one in said for one in world.valley.marks()):
        yield f"reads of the Valley: {said[:200]}"
    if after != before:
        yield "rows of another have changed"


def own_request(door: OwnDoor, world: World, actor: str, foreign: bool) -> tuple[str, Any]:
    seat = world.victim.seat if foreign else world.seats.get(actor, 1)
    file = world.victim.file if foreign else world.files.get(actor, "")
    path = "/api/" + door.route.replace("<int:seat>", str(seat)).replace("<int:number>", "0")
    path = path.replace("<str:file>", file or new_id())
    if foreign and door.method == "DELETE" and door.route == "session":
        path += f"?person={world.victim.person.pk}"
    return path, door.foreign_body(world) if foreign else door.body(world, actor)


@pytest.mark.slow
def test_the_doors_of_allauth(world: World) -> None:
    before = *digests(world, False), world.victim.state()
    hers = {"sessions": [world.victim.session], "authenticators": [world.victim.key], "id": world.victim.key}
    for actor in ("nobody", "helper"):
        phone = world.phones[actor]
        token = phone.token
        for route, method in product((*OPEN, *SIGNED_IN, *SHUT), METHODS):
            with undone(phone):
                body = None if method == "GET" else {**hers, "name": "mine now"}
                answer = knock(phone, method, f"/api/{ALLAUTH}{route}", body, token)
                after = *digests(world, False), world.victim.state()
            here = f"{actor} {method} {route}: {answer.status_code}"
            assert answer.status_code < 500, here
            assert route not in SHUT or answer.status_code == 404, here
            if actor == "nobody" and route in SIGNED_IN:
                assert answer.status_code in (401, 405, 409), here
            assert not [one for one in world.valley.marks() if one in read(answer)], here
            assert after == before, here


def unnamed() -> list[tuple[str, str]]:
    named = {(door.method, door.route) for door in (*FARM_DOORS, *OWN_DOORS)}
    return [(method, route) for route in sorted({route for _, route in named}) for method in (*METHODS, "TRACE")
            if (method, route) not in named]  # fmt: skip


def test_a_method_nobody_named_is_405(world: World) -> None:
    phone, before = world.phones["owner"], digest_of(world.hill.farm)
    token = phone.token
    for method, route in unnamed():
        door = FarmDoor(method, route, ())
        path, _, _ = asked_of(door, world, "owner", "own")
        path = path.replace("<int:seat>", "1").replace("<int:number>", "0").replace("<str:file>", new_id())
        with undone(phone):
            answer = knock(phone, method, path, None, token)
        assert (answer.status_code, answer.json()["code"]) == (405, "method"), (method, route)
    assert digest_of(world.hill.farm) == before
