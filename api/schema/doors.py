"""Each door of REST framework: its name and what it answers when all goes well. What it takes, its view says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.serializers import BaseSerializer

from . import answers

Kind = type[BaseSerializer[Any]]


@dataclass(frozen=True)
class Door:
    name: str
    answer: Kind | OpenApiTypes | None
    status: int = 200
    query: tuple[OpenApiParameter, ...] = ()


def whole(name: str, about: str) -> OpenApiParameter:
    return OpenApiParameter(name, int, description=about)


LEAVING = OpenApiParameter("person", str, description="Who signs out; without it, whoever is on.")
F = "/api/farms/{farm_id}/"
DOORS: dict[tuple[str, str], Door] = {
    ("GET", "/api/session"): Door("session", answers.Session),
    ("POST", "/api/session"): Door("signIn", answers.Session),
    ("PUT", "/api/session"): Door("takeOver", answers.Session),
    ("DELETE", "/api/session"): Door("signOut", answers.Session, query=(LEAVING,)),
    ("POST", "/api/sign-up"): Door("signUp", answers.SignedUp, status=201),
    ("POST", "/api/recovery"): Door("recover", answers.Code),
    ("POST", "/api/me/recovery-code"): Door("newRecoveryCode", answers.Code),
    ("PUT", "/api/me/pin"): Door("setPin", answers.PinSet),
    ("PUT", "/api/me/second-step"): Door("setSecondStep", answers.StepSet),
    ("GET", "/api/me/seats"): Door("seats", answers.Seats),
    ("DELETE", "/api/me/seats/{seat}"): Door("endSeat", None, status=204),
    ("PUT", "/api/me/push"): Door("subscribe", answers.Subscribed),
    ("DELETE", "/api/me/push"): Door("unsubscribe", None, status=204),
    ("POST", "/api/invitations/look"): Door("lookAtInvitation", answers.InvitationSeen),
    ("POST", "/api/invitations/accept"): Door("acceptInvitation", answers.Joined, status=201),
    ("GET", "/api/farms"): Door("farms", answers.Farms),
    ("POST", "/api/farms"): Door("makeFarm", answers.FarmRow, status=201),
    ("POST", "/api/farm-file"): Door("beginFarmFile", answers.FarmFileBegun, status=201),
    ("POST", "/api/farm-file/{file}/take-in"): Door("takeInFarm", answers.FarmRow, status=201),
    ("GET", F + "invitations"): Door("invitations", answers.Invitations),
    ("POST", F + "invitations"): Door("invite", answers.NewInvitationMade, status=201),
    ("DELETE", F + "invitations/{invitation}"): Door("revokeInvitation", None, status=204),
    ("POST", F + "invitations/{invitation}/code"): Door("newInvitationCode", answers.InvitationWithCode),
    ("GET", F + "members"): Door("members", answers.Members),
    ("PATCH", F + "members/{person}"): Door("changeMember", answers.Members),
    ("DELETE", F + "members/{person}"): Door("removeMember", None, status=204),
    ("POST", F + "leave"): Door("leaveFarm", None, status=204),
    ("GET", F + "notices"): Door("notices", answers.Notices),
    ("PUT", F + "notices"): Door("chooseNotices", answers.Notices),
    ("POST", F + "notices/try"): Door("tryNotice", None, status=204),
    ("GET", F + "set-aside"): Door("setAside", answers.SetAside, query=(whole("after", "The last row seen."),)),
    ("POST", F + "set-aside/{row}/let-in"): Door("letIn", answers.LetIn),
    ("POST", F + "set-aside/{row}/dismiss"): Door("dismiss", None, status=204),
    ("GET", F + "calendar"): Door("calendarLink", answers.CalendarLink),
    ("POST", F + "calendar"): Door("makeCalendarLink", answers.CalendarLinkMade, status=201),
    ("DELETE", F + "calendar"): Door("revokeCalendarLink", None, status=204),
    ("GET", F + "audit"): Door("audit", answers.AuditPage, query=(whole("before", "The last row seen."),)),
    ("POST", F + "export"): Door("exportFarm", OpenApiTypes.BINARY),
    ("POST", F + "close"): Door("closeFarm", answers.Closed),
    ("POST", F + "people/{person_id}/erase"): Door("erasePerson", answers.ErasedPerson),
}
