"""Every door under /api, what it takes, and what each of those who knock is told. A route without a row fails."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tests.people import PASSWORD
from tests.phones import Phone, new_id
from tests.security.world import Children, World
from tests.support.push_phone import Browser

METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
TARGETS = ("own", "other", "foreign", "nowhere")
YES = 0
NEW = {"name": "Nobody yet", "password": "lantern over the gate"}

# In the order of ACTORS: nobody, stranger, owner, family, helper, adviser, ended, removed, both.
OWNERS = (401, 404, YES, 403, 403, 403, 403, 403, YES)
KEEPERS = (401, 404, YES, YES, 403, 403, 403, 403, YES)
MEMBERS = (401, 404, YES, YES, YES, YES, 403, 403, YES)
RECORDERS = (401, 404, YES, YES, YES, 403, 403, 403, YES)
# Who is no longer on the farm hands in what she recorded, into the owner's list.
PUSHERS = (401, 404, YES, YES, YES, 403, YES, YES, YES)

Make = Callable[[Phone, Children, Children], Any]


@dataclass(frozen=True)
class FarmDoor:
    method: str
    route: str
    who: tuple[int, ...]
    yes: int = 200
    # What somebody who may is told of a child of the other farm; None where the address and body name no child.
    foreign: int | None = None
    body: Make = lambda phone, farm, child: None
    query: Make = lambda phone, farm, child: ""


def password(phone: Phone, farm: Children, child: Children) -> dict[str, str]:
    return {"password": PASSWORD, "name": farm.farm.name}


def role(phone: Phone, farm: Children, child: Children) -> dict[str, str]:
    return {"role": "helper"}


def batch(phone: Phone, farm: Children, child: Children) -> dict[str, Any]:
    """A note on the child's doe, and an entry under an id that is taken there."""
    phone.epoch = farm.farm.epoch
    same = phone.record("doe", new_id(), {"name": "Fern"}) | {"id": child.event}
    return phone.body([phone.event("note", child.doe, {"text": "eats"}), same])


def cursor(phone: Phone, farm: Children, child: Children) -> str:
    return f"?seq=0&outlook_rev=0&signed={child.event}"


def picture(phone: Phone, farm: Children, child: Children) -> bytes:
    return child.picture


def choices(phone: Phone, farm: Children, child: Children) -> dict[str, Any]:
    return {"kinds": ["clock", "ill"], "quiet_from_min": 1320, "quiet_to_min": 360, "language": "en"}


F = "farms/<str:farm_id>/"
FARM_DOORS = (
    FarmDoor("POST", F + "events", PUSHERS, foreign=200, body=batch),
    FarmDoor("GET", F + "changes", MEMBERS, foreign=200, query=cursor),
    FarmDoor("GET", F + "bootstrap", MEMBERS),
    FarmDoor("GET", F + "media", MEMBERS),
    FarmDoor("GET", F + "media/<str:sha256>", MEMBERS, foreign=404),
    FarmDoor("PUT", F + "media/<str:sha256>", RECORDERS, foreign=200, body=picture),
    FarmDoor("GET", F + "invitations", OWNERS),
    FarmDoor("POST", F + "invitations", OWNERS, 201, body=role),
    FarmDoor("DELETE", F + "invitations/<str:invitation>", OWNERS, 204, foreign=404),
    FarmDoor("POST", F + "invitations/<str:invitation>/code", OWNERS, foreign=404),
    FarmDoor("GET", F + "members", OWNERS),
    FarmDoor("PATCH", F + "members/<str:person>", OWNERS, foreign=404, body=role),
    FarmDoor("DELETE", F + "members/<str:person>", OWNERS, 204, foreign=404),
    FarmDoor("POST", F + "leave", MEMBERS, 204),
    FarmDoor("GET", F + "notices", RECORDERS),
    FarmDoor("PUT", F + "notices", RECORDERS, body=choices),
    FarmDoor("POST", F + "notices/try", RECORDERS, 204),
    FarmDoor("GET", F + "set-aside", OWNERS),
    FarmDoor("POST", F + "set-aside/<int:row>/let-in", OWNERS, foreign=404),
    FarmDoor("POST", F + "set-aside/<int:row>/dismiss", OWNERS, 204, foreign=404),
    FarmDoor("GET", F + "calendar", KEEPERS),
    FarmDoor("POST", F + "calendar", KEEPERS, 201, body=lambda phone, farm, child: {"language": "es"}),
    FarmDoor("DELETE", F + "calendar", KEEPERS, 204),
    FarmDoor("GET", F + "audit", OWNERS),
    FarmDoor("POST", F + "export", OWNERS, body=password),
    FarmDoor("POST", F + "close", OWNERS, body=password),
    FarmDoor("POST", F + "people/<str:person_id>/erase", OWNERS, foreign=404, body=password),
)


@dataclass(frozen=True)
class OwnDoor:
    """A door about oneself. `foreign` is asked for what is the victim's."""

    method: str
    route: str
    nobody: int
    yes: int
    body: Callable[[World, str], Any] = lambda world, actor: None
    foreign: int | None = None
    foreign_body: Callable[[World], Any] = lambda world: None
    # Who is told something else, and what.
    but: tuple[tuple[str, int], ...] = ()


def me(world: World, actor: str) -> dict[str, str]:
    return {"person": world.phones[actor].person.pk}


def victim(world: World) -> dict[str, str]:
    return {"person": world.victim.person.pk}


def again(world: World, actor: str) -> dict[str, Any]:
    return {"password": PASSWORD, "pin": "4711", "on": False}


def invited(world: World, actor: str) -> dict[str, str]:
    return {"token": world.hill.token}


def file(world: World, actor: str) -> bytes:
    return world.file


def browser(world: World, actor: str) -> dict[str, str]:
    return Browser().says(f"https://push.example.net/{actor}")


FILE = "farm-file/<str:file>"
ON_IT = tuple((actor, 409) for actor in ("owner", "family", "helper", "adviser", "both"))
OWN_DOORS = (
    OwnDoor("GET", "schema", 200, 200),
    OwnDoor("GET", "docs", 200, 200),
    OwnDoor("GET", "session", 200, 200),
    OwnDoor("POST", "session", 400, 400, lambda w, a: {"name": w.victim.person.name, "password": "a guess"}),
    OwnDoor("PUT", "session", 404, 200, me, foreign=404, foreign_body=victim),
    OwnDoor("DELETE", "session", 200, 200, foreign=200),
    OwnDoor("POST", "sign-up", 201, 201, lambda w, a: NEW),
    OwnDoor("POST", "recovery", 400, 400, lambda w, a: {**NEW, "name": w.victim.person.name, "code": "A" * 24}),
    OwnDoor("POST", "me/recovery-code", 401, 200, again),
    OwnDoor("PUT", "me/pin", 401, 200, again),
    OwnDoor("PUT", "me/second-step", 401, 200, again),
    OwnDoor("GET", "me/seats", 401, 200),
    OwnDoor("DELETE", "me/seats/<int:seat>", 401, 204, foreign=404),
    OwnDoor("PUT", "me/push", 401, 200, browser),
    OwnDoor("DELETE", "me/push", 401, 204),
    OwnDoor("POST", "invitations/look", 200, 200, invited),
    OwnDoor("POST", "invitations/accept", 401, 201, invited, but=ON_IT),
    # Nobody is signed in there; with a secret that is known: tests/api/test_calendar.py.
    OwnDoor("GET", "calendar/<str:secret>.ics", 404, 404),
    OwnDoor("GET", "farms", 401, 200),
    OwnDoor("POST", "farms", 401, 201, lambda w, a: {"name": "New", "zone": "Europe/Vienna"}),
    OwnDoor("POST", "farm-file", 401, 201, lambda w, a: {"password": PASSWORD, "bytes": 4_100_200}),
    OwnDoor("PUT", FILE + "/parts/<int:number>", 401, 200, file, foreign=404, foreign_body=lambda w: w.file),
    OwnDoor("POST", FILE + "/take-in", 401, 201, lambda w, a: {"name": "New"}, foreign=404),
)

# allauth's own doors: what each says is its matter; that it gives away and changes nothing of anybody else is ours.
OPEN = (
    "config", "auth/session", "auth/code/confirm", "auth/password/request", "auth/password/reset", "auth/login",
    "auth/signup", "auth/email/verify", "auth/email/verify/resend",
    "auth/2fa/authenticate", "auth/webauthn/authenticate", "auth/webauthn/login",
)  # fmt: skip
SIGNED_IN = (
    "auth/reauthenticate", "account/password/change", "account/email", "auth/2fa/reauthenticate",
    "auth/webauthn/reauthenticate", "account/authenticators", "account/authenticators/recovery-codes",
    "account/authenticators/webauthn", "auth/sessions",
)  # fmt: skip
SHUT = ("auth/phone/verify", "auth/phone/verify/resend", "account/phone")
ALLAUTH = "auth/browser/v1/"
