"""Each door of REST framework: its name, what it takes and what it answers when all goes well."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.serializers import BaseSerializer

from ..account import me, recovery, sign_up
from ..account.password import PasswordAgain
from ..farms import NewFarm
from ..leaving import NameAndPassword
from ..people import invitations, members
from ..session import SignIn, TakeOver
from . import answers

Kind = type[BaseSerializer[Any]]


@dataclass(frozen=True)
class Door:
    name: str
    answer: Kind | OpenApiTypes | None
    takes: Kind | None = None
    status: int = 200
    query: tuple[OpenApiParameter, ...] = ()


def whole(name: str, about: str) -> OpenApiParameter:
    return OpenApiParameter(name, int, description=about)


LEAVING = OpenApiParameter("person", str, description="Who signs out; without it, whoever is on.")
F = "/api/farms/{farm_id}/"
DOORS: dict[tuple[str, str], Door] = {
    ("GET", "/api/session"): Door("session", answers.Session),
    ("POST", "/api/session"): Door("signIn", answers.Session, SignIn),
    ("PUT", "/api/session"): Door("takeOver", answers.Session, TakeOver),
    ("DELETE", "/api/session"): Door("signOut", answers.Session, query=(LEAVING,)),
    ("POST", "/api/sign-up"): Door("signUp", answers.SignedUp, sign_up.SignUp, 201),
    ("POST", "/api/recovery"): Door("recover", answers.Code, recovery.Recover),
    ("POST", "/api/me/recovery-code"): Door("newRecoveryCode", answers.Code, PasswordAgain),
    ("PUT", "/api/me/pin"): Door("setPin", answers.PinSet, me.Pin),
    ("PUT", "/api/me/second-step"): Door("setSecondStep", answers.StepSet, me.Step),
    ("GET", "/api/me/seats"): Door("seats", answers.Seats),
    ("DELETE", "/api/me/seats/{seat}"): Door("endSeat", None, status=204),
    ("POST", "/api/invitations/look"): Door("lookAtInvitation", answers.InvitationSeen, invitations.Secret),
    ("POST", "/api/invitations/accept"): Door("acceptInvitation", answers.Joined, invitations.Acceptance, 201),
    ("GET", "/api/farms"): Door("farms", answers.Farms),
    ("POST", "/api/farms"): Door("makeFarm", answers.FarmRow, NewFarm, 201),
    ("GET", F + "invitations"): Door("invitations", answers.Invitations),
    ("POST", F + "invitations"): Door("invite", answers.NewInvitationMade, invitations.NewInvitation, 201),
    ("DELETE", F + "invitations/{invitation}"): Door("revokeInvitation", None, status=204),
    ("POST", F + "invitations/{invitation}/code"): Door("newInvitationCode", answers.InvitationWithCode),
    ("GET", F + "members"): Door("members", answers.Members),
    ("PATCH", F + "members/{person}"): Door("setRole", answers.Members, members.NewRole),
    ("DELETE", F + "members/{person}"): Door("removeMember", None, status=204),
    ("POST", F + "leave"): Door("leaveFarm", None, status=204),
    ("GET", F + "set-aside"): Door("setAside", answers.SetAside, query=(whole("after", "The last row seen."),)),
    ("POST", F + "set-aside/{row}/let-in"): Door("letIn", answers.LetIn),
    ("POST", F + "set-aside/{row}/dismiss"): Door("dismiss", None, status=204),
    ("GET", F + "audit"): Door("audit", answers.AuditPage, query=(whole("before", "The last row seen."),)),
    ("POST", F + "export"): Door("exportFarm", OpenApiTypes.BINARY, PasswordAgain),
    ("POST", F + "close"): Door("closeFarm", answers.Closed, NameAndPassword),
    ("POST", F + "people/{person_id}/erase"): Door("erasePerson", answers.ErasedPerson, PasswordAgain),
}
