from allauth.headless.urls import urlpatterns as headless
from django.http import HttpRequest, HttpResponse
from django.urls import URLPattern, URLResolver, include, path, re_path

from .account.me import PinView, SeatsView, SeatView, SecondStepView
from .account.recovery import RecoveryCodeView, RecoveryView
from .account.sign_up import SignUpView
from .calendar import CalendarView, calendar
from .errors import NOT_FOUND, ApiError
from .farm_file import FarmFileView, TakeInView, part
from .farms import FarmsView
from .leaving import CloseFarmView, ErasePersonView, ExportView
from .media import media, room
from .notices import NoticesView, PushView, TryView
from .people.audit import AuditView
from .people.invitations import AcceptView, CodeView, InvitationsView, InvitationView, LookView
from .people.members import LeaveView, MembersView, MemberView
from .people.set_aside import DismissView, LetInView, SetAsideView
from .schema.page import docs, schema
from .session import SessionView
from .sync import pull, push, start


def closed(request: HttpRequest) -> HttpResponse:
    raise ApiError(*NOT_FOUND)


urlpatterns: list[URLPattern | URLResolver] = [
    # allauth's doors for telephone numbers, which no account has here; some of them break when nobody is signed in.
    re_path(r"^auth/browser/v1/(?:account|auth)/phone", closed),
    path("auth/", include((headless, "headless"), namespace="headless")),
    path("schema", schema),
    path("docs", docs),
    path("session", SessionView.as_view()),
    path("sign-up", SignUpView.as_view()),
    path("recovery", RecoveryView.as_view()),
    path("me/recovery-code", RecoveryCodeView.as_view()),
    path("me/pin", PinView.as_view()),
    path("me/second-step", SecondStepView.as_view()),
    path("me/seats", SeatsView.as_view()),
    path("me/seats/<int:seat>", SeatView.as_view()),
    path("me/push", PushView.as_view()),
    path("invitations/look", LookView.as_view()),
    path("invitations/accept", AcceptView.as_view()),
    path("calendar/<str:secret>.ics", calendar),
    path("farms", FarmsView.as_view()),
    path("farm-file", FarmFileView.as_view()),
    path("farm-file/<str:file>/parts/<int:number>", part),
    path("farm-file/<str:file>/take-in", TakeInView.as_view()),
    path("farms/<str:farm_id>/events", push),
    path("farms/<str:farm_id>/changes", pull),
    path("farms/<str:farm_id>/bootstrap", start),
    path("farms/<str:farm_id>/media", room),
    path("farms/<str:farm_id>/media/<str:sha256>", media),
    path("farms/<str:farm_id>/invitations", InvitationsView.as_view()),
    path("farms/<str:farm_id>/invitations/<str:invitation>", InvitationView.as_view()),
    path("farms/<str:farm_id>/invitations/<str:invitation>/code", CodeView.as_view()),
    path("farms/<str:farm_id>/members", MembersView.as_view()),
    path("farms/<str:farm_id>/members/<str:person>", MemberView.as_view()),
    path("farms/<str:farm_id>/leave", LeaveView.as_view()),
    path("farms/<str:farm_id>/notices", NoticesView.as_view()),
    path("farms/<str:farm_id>/notices/try", TryView.as_view()),
    path("farms/<str:farm_id>/set-aside", SetAsideView.as_view()),
    path("farms/<str:farm_id>/set-aside/<int:row>/let-in", LetInView.as_view()),
    path("farms/<str:farm_id>/set-aside/<int:row>/dismiss", DismissView.as_view()),
    path("farms/<str:farm_id>/calendar", CalendarView.as_view()),
    path("farms/<str:farm_id>/audit", AuditView.as_view()),
    path("farms/<str:farm_id>/export", ExportView.as_view()),
    path("farms/<str:farm_id>/close", CloseFarmView.as_view()),
    path("farms/<str:farm_id>/people/<str:person_id>/erase", ErasePersonView.as_view()),
]
