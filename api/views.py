"""What our views have in common. Who may come in is said by `permission_classes`, how often by `throttle_classes`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, ClassVar, NoReturn

from django.utils.decorators import method_decorator
from django.views.decorators.csrf import csrf_protect
from rest_framework.permissions import AllowAny, BasePermission
from rest_framework.request import Request
from rest_framework.views import APIView

from herd.models import Person
from herd.services.limits import Busy

from .access import Access, signed_in
from .bodies import Body, checked
from .permissions import Owner, Proved, SignedIn

Permissions = tuple[type[BasePermission], ...]


class BodyView(APIView):
    """`takes`: by method, the body it reads; `asked`: what was in it."""

    takes: ClassVar[Mapping[str, type[Body]]] = {}
    asked: dict[str, Any]

    def check_throttles(self, request: Request) -> None:
        """After the body was read: what is not even filled in is no try at anything."""
        kind = self.takes.get(str(request.method))
        self.asked = checked(kind, request) if kind else {}
        super().check_throttles(request)

    def throttled(self, request: Request, wait: float) -> NoReturn:
        raise Busy(round(wait))


# REST framework asks for the token only of who is signed in; here others write, too.
@method_decorator(csrf_protect, name="dispatch")
class OpenView(BodyView):
    permission_classes: Permissions = (AllowAny,)


class OwnView(BodyView):
    """About whoever asks."""

    permission_classes: Permissions = (SignedIn,)

    @property
    def person(self) -> Person:
        return signed_in(self.request._request)


class FarmView(BodyView):
    """Of one farm. A view that says nothing of who may come in is as narrow as any."""

    permission_classes: Permissions = (Owner, Proved)
    held: Access
