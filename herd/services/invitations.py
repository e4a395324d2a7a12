"""Invitations: a link, or a code short enough to type. Whoever shows the secret gets the place, once."""

from __future__ import annotations

import secrets
from dataclasses import dataclass, field
from datetime import date, timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone
from django.utils.crypto import constant_time_compare, salted_hmac

from herd.models import Farm, Invitation, Membership, Person
from herd.models.farm import ADVISER, HELPER, OWNER, ROLES

from .audit import audit
from .limits import DAY_S, Limit, hit
from .members import today_on
from .names import plain_name
from .recovery import as_typed, secret_of
from .wire import digest

TOKEN_BYTES, LASTS_D, CODE_LASTS_MIN = 16, 7, 10
FINDS, GUARDS, MOST_WRONG = 3, 5, 5
A_DAY = Limit("invitations", 20, DAY_S)
SALT = "herd.services.invitations"
MOST_DOES = 500


class BadInvitation(ValueError):
    """What was asked for cannot be: `field` says where."""

    def __init__(self, field: str, why: str) -> None:
        super().__init__(why)
        self.field = field


class NoInvitation(LookupError):
    """Used, over, taken back, or never there: whoever guesses is not told which."""


@dataclass(frozen=True, slots=True)
class Place:
    """What is offered: a role, and for how long, with which does or pack."""

    role: str
    whom: str = ""
    starts_on: date | None = None
    ends_on: date | None = None
    does: list[str] = field(default_factory=list)
    pack: str = ""


def invite(farm: Farm, place: Place, by: Person) -> tuple[Invitation, str]:
    """The row, and the token that is in no table."""
    _check(farm, place)
    hit(A_DAY, farm.pk)
    token = secrets.token_urlsafe(TOKEN_BYTES)
    with transaction.atomic():
        made = Invitation.objects.create(
            farm=farm,
            role=place.role,
            whom=plain_name(place.whom, "name") if place.whom.strip() else "",
            made_by=by,
            until_at=timezone.now() + timedelta(days=LASTS_D),
            token_sha256=digest(token),
            starts_on=place.starts_on,
            ends_on=place.ends_on,
            does=place.does,
            pack=place.pack,
        )
        audit(farm, by, "invited", place.role)
    return made, token


def _check(farm: Farm, place: Place) -> None:
    today = today_on(farm)
    if place.role not in dict(ROLES):
        raise BadInvitation("role", "Choose owner, family, helper or adviser.")
    if place.role == ADVISER and not place.does:
        raise BadInvitation("does", "Choose the does the adviser may see.")
    if place.role == ADVISER and not place.ends_on:
        raise BadInvitation("ends_on", "Say until which day the adviser may look.")
    if len(place.does) > MOST_DOES:
        raise BadInvitation("does", f"Choose at most {MOST_DOES} does.")
    if place.does and place.role != ADVISER:
        raise BadInvitation("does", "Only an adviser is shown chosen does.")
    if (place.starts_on or place.ends_on or place.pack) and place.role not in (HELPER, ADVISER):
        raise BadInvitation("ends_on", "Only a helper or an adviser comes for some days.")
    if place.ends_on and place.ends_on < max(today, place.starts_on or today):
        raise BadInvitation("ends_on", "The last day must not be before the first, nor past.")


def new_code(invitation: Invitation) -> str:
    """Eight letters good for ten minutes. The first three find the invitation, the others guard it."""
    code = secret_of(FINDS + GUARDS)
    while open_ones().filter(code_finds=code[:FINDS]).exists():
        code = secret_of(FINDS + GUARDS)
    invitation.code_finds, invitation.code_hash, invitation.code_wrong = code[:FINDS], _hash(code), 0
    invitation.code_until_at = timezone.now() + timedelta(minutes=CODE_LASTS_MIN)
    invitation.save(update_fields=["code_finds", "code_hash", "code_wrong", "code_until_at"])
    return f"{code[:4]}-{code[4:]}"


def _hash(code: str) -> str:
    """Few letters: without the server's key nobody who reads the table can try them all."""
    return salted_hmac(SALT, code, algorithm="sha256").hexdigest()


def open_ones() -> QuerySet[Invitation]:
    return Invitation.objects.filter(used_at=None, revoked_at=None, until_at__gt=timezone.now())


def pending(farm: Farm) -> list[Invitation]:
    return list(open_ones().filter(farm=farm).select_related("made_by").order_by("-made_at"))


def revoke(farm: Farm, invitation_id: str, by: Person) -> None:
    found = open_ones().filter(farm=farm, pk=invitation_id)
    row = found.first()
    if row is None or not found.update(revoked_at=timezone.now()):
        raise NoInvitation
    audit(farm, by, "invitation_revoked", row.role)


def find(token: str = "", code: str = "") -> Invitation:
    rows = open_ones().select_related("farm", "made_by")
    # Who was put off the farm leaves no open door behind her, nor does who is no owner any more.
    owner = {"farm": F("farm"), "role": OWNER, "gone_at": None}
    rows = rows.filter(Q(**{f"made_by__memberships__{name}": value for name, value in owner.items()}))
    found = rows.filter(token_sha256=digest(token)).first() if token else _by_code(rows, as_typed(code))
    if found is None:
        raise NoInvitation
    return found


def _by_code(rows: QuerySet[Invitation], code: str) -> Invitation | None:
    held = rows.filter(code_finds=code[:FINDS], code_until_at__gt=timezone.now(), code_wrong__lt=MOST_WRONG)
    row = held.first() if len(code) == FINDS + GUARDS else None
    if row is None:
        return None
    if constant_time_compare(row.code_hash, _hash(code)):
        return row
    Invitation.objects.filter(pk=row.pk).update(code_wrong=F("code_wrong") + 1)
    audit(row.farm, None, "wrong_invitation_code", row.role)
    return None


def accept(invitation: Invitation, person: Person) -> Membership:
    """Of two who come at once one gets the place. Who is on the farm already keeps the place she has."""
    with transaction.atomic():
        farm = Farm.objects.select_for_update().get(pk=invitation.farm_id)
        if Membership.objects.filter(farm=farm, person=person).exists():
            raise BadInvitation("invitation", "You are on this farm already: this invitation is for somebody else.")
        mine = open_ones().filter(pk=invitation.pk)
        if not mine.update(used_at=timezone.now(), used_by=person.pk):
            raise NoInvitation
        said = {name: getattr(invitation, name) for name in ("role", "starts_on", "ends_on", "does", "pack")}
        said |= {"gone_at": None, "gone_why": ""}
        member, _ = Membership.everyone.update_or_create(farm=farm, person=person, defaults=said)
        audit(farm, person, "joined", f"{person.pk} {member.role}")
    return member


def link(origin: str, token: str) -> str:
    """The token stands behind the #, which no server is sent and no log keeps."""
    return f"{origin.rstrip('/')}/#/join/{token}"


def sign_up_is_open() -> bool:
    return bool(settings.SIGN_UP == "open")
