"""Two farms and everybody who might knock at their doors: the Hill is the one asked about, the Valley is another's."""

from __future__ import annotations

import hashlib
import json
import tempfile
from dataclasses import dataclass, field
from datetime import timedelta
from pathlib import Path
from typing import Any

from allauth.mfa.models import Authenticator
from allauth.usersessions.models import UserSession
from django.apps import apps
from django.utils import timezone

from herd.models import Audit, Blob, Farm, FarmFile, FilePart, Membership, Person, Quarantine, Seat
from herd.models.farm import ADVISER, FAMILY, HELPER, OWNER, REMOVED
from herd.services.invitations import Place, invite
from herd.services.leaving import arriving
from herd.services.leaving.pack import export
from herd.services.make_farm import add_member, make_farm
from herd.services.telling.choices import subscribe
from tests.people import PASSWORD, ZONE
from tests.phones import Phone, new_id
from tests.support.media import jpeg, mark
from tests.support.push_phone import Browser

ACTORS = ("nobody", "stranger", "owner", "family", "helper", "adviser", "ended", "removed", "both")


@dataclass
class Children:
    """What belongs to one farm, each by the name its address has."""

    farm: Farm
    invitation: str
    token: str
    person: str
    row: int
    sha256: str
    picture: bytes
    event: str
    doe: str
    names: tuple[str, ...]
    people: list[str] = field(default_factory=list)

    def marks(self) -> set[str]:
        """What nobody else may ever read."""
        ids = {self.farm.id, self.invitation, self.person, self.sha256, self.event, self.doe, *self.people}
        return {*ids, *self.names}


@dataclass
class Victim:
    """Somebody of the other farm with a place, a session and a passkey on her account."""

    person: Person
    seat: int
    session: int
    key: int
    file: str

    def state(self) -> str:
        """Her account, to be found again as it was."""
        parts = [Person.objects.filter(pk=self.person.pk).values()]
        parts += [model.objects.filter(person=self.person).values() for model in (Seat, FarmFile)]
        parts += [model.objects.filter(user=self.person).values() for model in (UserSession, Authenticator)]
        parts += [FilePart.objects.filter(file__person=self.person).values()]
        return repr([list(part) for part in parts])


@dataclass
class World:
    hill: Children
    valley: Children
    phones: dict[str, Phone]
    # Of each actor, on a phone that is not the one in hand.
    seats: dict[str, int]
    # A farm's file on its way in, and those of each actor, by their ids.
    file: bytes
    files: dict[str, str]
    victim: Victim

    def farm(self, target: str) -> Children:
        return self.valley if target == "other" else self.hill


def make_world() -> World:
    ada, ben, cleo, vet, eve, fay, gus, dov, hal, ivo = (
        Person.objects.make(name, PASSWORD)
        for name in ("Ada", "Ben", "Cleo", "Vetch", "Eve", "Fay", "Gus", "Dov", "Halcyon", "Ivo")
    )
    hill, valley = make_farm("Hillfarm", ZONE, ada), make_farm("Valleyfarm", ZONE, dov)
    for person, role in ((ben, FAMILY), (cleo, HELPER), (eve, HELPER), (fay, FAMILY), (gus, OWNER)):
        add_member(hill, person, role, by=ada)
    for person, role in ((hal, HELPER), (ivo, FAMILY), (gus, OWNER)):
        add_member(valley, person, role, by=dov)
    first, second = filled(hill, ada, fay, cleo, "Hillmist"), filled(valley, dov, ivo, hal, "Valleymist")
    Membership.objects.create(farm=hill, person=vet, role=ADVISER, does=[first.doe])
    Membership.objects.filter(farm=hill, person=eve).update(ends_on=(timezone.now() - timedelta(days=3)).date())
    second.people = [dov.pk, ivo.pk]
    who = dict(zip(ACTORS, (None, dov, ada, ben, cleo, vet, eve, fay, gus), strict=True))
    phones = {actor: Phone(hill, person or ada) for actor, person in who.items()}
    elsewhere = {actor: Phone(hill, person) for actor, person in who.items() if person}
    for actor, phone in elsewhere.items():
        phone.sign_in()
        phones[actor].sign_in()
    seats = {actor: first_of(Seat, person=phone.person) for actor, phone in elsewhere.items()}
    for place in Seat.objects.all():
        subscribe(place, **Browser().says(f"https://push.example.net/{place.pk}"))
    file = farm_file(make_farm("Away", ZONE, ada))
    files = {actor: sent(phone.person, file) for actor, phone in elsewhere.items()}
    return World(first, second, phones, seats, file, files, victim_of(ivo, valley, file))


def first_of(model: Any, **of: Any) -> int:
    return int(model.objects.filter(**of).order_by("pk")[0].pk)


def farm_file(farm: Farm) -> bytes:
    """Of a farm that was closed since."""
    with tempfile.TemporaryDirectory() as folder:
        export(farm, Path(folder) / "farm.zip")
        whole = (Path(folder) / "farm.zip").read_bytes()
    farm.delete()
    return whole


def sent(person: Person, whole: bytes) -> str:
    file = arriving.begin(person, len(whole))
    assert arriving.put(file, 0, whole)
    return str(file.pk)


def victim_of(person: Person, farm: Farm, file: bytes) -> Victim:
    Phone(farm, person).sign_in()
    key = Authenticator.objects.create(user=person, type=Authenticator.Type.WEBAUTHN, data={"name": "key"})
    seat, session = first_of(Seat, person=person), first_of(UserSession, user=person)
    return Victim(person, seat, session, int(key.pk), sent(person, file))


def filled(farm: Farm, owner: Person, going: Person, helper: Person, doe_name: str) -> Children:
    """One doe, one open invitation, one picture, and an entry of somebody who was removed before it came."""
    phone, last = Phone(farm, owner).sign_in(), Phone(farm, going).sign_in()
    doe = new_id()
    entry = phone.record("doe", doe, {"name": doe_name})
    picture = jpeg(grain=doe_name.encode())
    shown = {"what": "her", "sha256": mark(picture), "bytes": len(picture), "w": 640, "h": 480}
    phone.push(entry, phone.event("picture", doe, shown))
    Membership.objects.filter(farm=farm, person=going).update(gone_at=timezone.now(), gone_why=REMOVED)
    last.push(last.event("note", doe, {"text": f"{doe_name} limps"}))
    made, token = invite(farm, Place(role=HELPER, whom=f"{doe_name} helper"), owner)
    kept = {"media": "image/jpeg", "size": len(picture), "sender": owner.pk, "received_ms": 1, "content": picture}
    Blob.objects.create(farm=farm, sha256=mark(picture), **kept)
    row = Quarantine.objects.get(farm=farm).pk
    names = (farm.name, doe_name)
    return Children(farm, made.pk, token, helper.pk, row, mark(picture), picture, entry["id"], doe, names)


def digest_of(farm: Farm, *, audit: bool = True) -> str:
    """Every row of a farm, its own included. What somebody does about herself is in the audit of each of her farms."""
    rows: list[Any] = list(Farm.objects.filter(pk=farm.pk).values())
    for model in apps.get_app_config("herd").get_models():
        if model is Audit and not audit:
            continue
        if any(one.related_model is Farm for one in model._meta.concrete_fields):
            rows.append([model.__name__, *model._default_manager.filter(farm_id=farm.pk).order_by("pk").values()])
    return hashlib.sha256(json.dumps(rows, default=repr, sort_keys=True).encode()).hexdigest()
